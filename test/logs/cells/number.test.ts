import { describe, expect, test } from 'vitest'
import { type Decimal, parseNumber } from '../../../src/logs/cells/number.ts'

const cases: readonly (readonly [text: string, decimal: Decimal, value: number | null])[] = [
  ['1.5', 'point', 1.5],
  ['-1.5', 'point', -1.5],
  ['+ 12', 'point', 12],
  ['−3.25', 'point', -3.25],
  ['.5', 'point', 0.5],
  ['5.', 'point', 5],
  ['1e-3', 'point', 0.001],
  ['1,234.5', 'point', 1234.5],
  ["1'234.5", 'point', 1234.5],
  ['1 234 567.5', 'point', 1_234_567.5],
  ['1,5', 'point', null],
  ['0,500', 'point', null],
  ['12,34,567', 'point', null],
  ['1.234,5', 'comma', 1234.5],
  ['1 234,5', 'comma', 1234.5],
  ['1\u202f234,5', 'comma', 1234.5],
  ['1,5', 'comma', 1.5],
  ['1.5', 'comma', null],
  ['1.2.3', 'point', null],
  ['', 'point', null],
  ['-', 'point', null],
  ['0x10', 'point', null],
  ['1e999', 'point', null],
  ['9007199254740993', 'point', 9007199254740992],
]

describe('parseNumber', () => {
  test.each(cases)('%j with a decimal %s is %s', (text, decimal, value) => {
    expect(parseNumber(text, decimal)).toBe(value)
  })
})

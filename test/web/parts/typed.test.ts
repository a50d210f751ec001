import { expect, test } from 'vitest'
import { aboveZeroOrNull, betweenOrNull, typedNumber, wholeOrNull } from '../../../src/web/parts/typed.ts'

test.each([
  ['1.07', 1.07],
  [' 1,5 ', 1.5],
  ['.5', 0.5],
  ['12.', 12],
  ['−2', -2],
  ['-2,25', -2.25],
  ['+3', 3],
  ['1e-7', 1e-7],
  ['1e999', null],
  ['', null],
  [' ', null],
  ['--5', null],
  ['1.2.3', null],
  ['0x10', null],
  ['Infinity', null],
  ['12 N', null],
])('numbers are read as people type them: “%s”', (text, value) => {
  expect(typedNumber(text)).toBe(value)
})

test.each([
  ['', null],
  [' 1,5 ', 1.5],
  ['12', 12],
  ['0', undefined],
  ['-3', undefined],
  ['a dozen', undefined],
  ['1e400', undefined],
])('above 0: “%s”', (text, value) => {
  expect(aboveZeroOrNull(text)).toBe(value)
})

test.each([
  ['', null],
  ['12', 12],
  ['1.5', undefined],
  ['100001', undefined],
])('whole: “%s”', (text, value) => {
  expect(wholeOrNull(text)).toBe(value)
})

test.each([
  ['−33,9', -33.9],
  ['52.1', 52.1],
  ['91', undefined],
  ['', null],
  ['--5', undefined],
])('a latitude: “%s”', (text, value) => {
  expect(betweenOrNull(-90, 90)(text)).toBe(value)
})

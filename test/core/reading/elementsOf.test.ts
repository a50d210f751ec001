import { expect, test } from 'vitest'
import type { Adjustment } from '../../../src/core/reading/adjustment.ts'
import { elementsOf } from '../../../src/core/reading/elementsOf.ts'

const told = {
  name: 'x',
  variant: null,
  elements: 8,
  widthMm: null,
  thicknessMm: null,
  lengthMm: null,
  mode: null,
  note: null,
}
const counted = (id: string, count: number | null): Adjustment => ({
  id,
  kind: 'elements',
  count,
  who: 'Ada',
  when: '2026-05-04T14:20:00Z',
  why: 'counted again',
})

test('the last count of the adjustments, else what is told of the specimen', () => {
  expect(elementsOf({ specimen: null })).toBeNull()
  expect(elementsOf({ specimen: told })).toBe(8)
  expect(elementsOf({ specimen: told, adjustments: [counted('a', 7), counted('b', 6)] })).toBe(6)
  expect(elementsOf({ specimen: told, adjustments: [counted('a', null)] })).toBeNull()
})

import { expect, test } from 'vitest'
import { withoutAdjustment } from '../../../../src/core/reading/adjustment.ts'
import type { Adjustment } from '../../../../src/core/reading/adjustmentDocument.ts'
import { listedAdjustments, putBack } from '../../../../src/web/read/adjust/listed.ts'

const made = (id: string, minute: number): Adjustment => ({
  id,
  who: 'Ann',
  when: `2026-05-04T14:${String(minute).padStart(2, '0')}:00Z`,
  why: 'counted',
  kind: 'elements',
  count: minute,
})
const [a, b, c] = [made('a', 1), made('b', 2), made('c', 3)]

test('what is no longer in the reading is struck out, in the place where it was made', () => {
  const listed = listedAdjustments([a, c], [[a, c], [a, b, c], [a, b], [a], []])
  expect(listed.map(({ adjustment, isStruck }) => [adjustment.id, isStruck])).toEqual([
    ['a', false],
    ['b', true],
    ['c', false],
  ])
})

test('put back, the list is as it was before it was struck out, whichever it was', () => {
  for (const one of [a, b, c]) expect(putBack(withoutAdjustment([a, b, c], one.id), one)).toEqual([a, b, c])
})

test('without history there is only what counts now', () => {
  expect(listedAdjustments([a], [])).toEqual([{ adjustment: a, isStruck: false }])
})

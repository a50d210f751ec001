import { expect, test } from 'vitest'
import { lines, recordingOf } from '../support.ts'

/** What may stand before the pairs of a line. */
const clock = (i: number): string => `15:12:${(i / 10).toFixed(3).padStart(6, '0')}`

test.each([
  ['a journal’s day, host and writer', (i: number) => `Nov 25 ${clock(i)} bench rig[12]: force=${i}.5 N`],
  ['a journal’s writer only', (i: number) => `Nov  5 ${clock(i)} rig: force=${i}.5 N`],
  ['a date-time and a writer', (i: number) => `2026-11-25T${clock(i)}Z rig: force=${i}.5 N`],
  ['an afternoon', (i: number) => `03:12:${clock(i).slice(6)} PM force=${i}.5 N`],
])('%s before key=value is its time, and the key names the force', (_, line) => {
  const r = recordingOf(lines(40, line))
  expect(r.forceUnit).toBe('N')
  expect(r.assumptions).toEqual([])
  expect(r.forceN[39]).toBe(39.5)
  expect(r.timeFrom).toBe('clock')
  expect(r.timeS[39]! - r.timeS[0]!).toBeCloseTo(3.9)
})

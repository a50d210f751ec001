import { expect, test } from 'vitest'
import { judgeHealth } from '../../../src/core/health/judgeHealth.ts'
import { healthWords } from '../../../src/core/health/units.ts'
import { recordingOf } from '../reading/recordingOf.ts'

/** Readings that one value of the display lasts, on the way to 1,600 N in steps of 10 N at 10 readings a second. */
const pullWith = (lasts: (stepsBelow: number) => number, onTop: number) => {
  const stepped = (way: readonly number[]) =>
    way.flatMap(k => Array.from({ length: Math.round(lasts(k)) }, () => 1600 - 10 * k))
  const below = Array.from({ length: 159 }, (_, k) => k + 1)
  const rest = [0, 0]
  const top = Array.from({ length: onTop }, () => 1600)
  const values = [...rest, ...stepped([...below].reverse()), ...top, ...stepped(below.slice(0, 60)), ...rest]
  const recording = recordingOf(Float64Array.from(values), 10)
  return judgeHealth([{ recording, step: 'ordinary' }], healthWords('N'))
}
const codes = (judged: ReturnType<typeof pullWith>) =>
  judged.ok ? judged.value.findings.map(f => f.code) : judged.problems

test('a top that is come to at full speed is the end of the range; one that the force slows down to is not', () => {
  expect(codes(pullWith(() => 2, 60))).toContain('saturated')
  expect(codes(pullWith(k => Math.max(2, 12 / k ** 0.5), 54))).not.toContain('saturated')
})

import { expect, test } from 'vitest'
import { judgeHealth } from '../../../src/core/health/judgeHealth.ts'
import { healthWords } from '../../../src/core/health/units.ts'
import { recordingOf } from '../reading/recordingOf.ts'

/** A pull of 20 s at 10 readings a second on a display of 10 N, up to `topN(share)` and back to nothing. */
const pullTo = (topN: (share: number) => number) => {
  const rest = Array.from({ length: 30 }, () => 0)
  const up = Array.from({ length: 200 }, (_, i) => Math.round(topN((i + 1) / 200) / 10) * 10)
  const values = [...rest, ...up, ...rest]
  const recording = recordingOf(Float64Array.from(values), 10)
  return judgeHealth([{ recording, step: 'ordinary' }], healthWords('N'))
}
const codes = (judged: ReturnType<typeof pullTo>) =>
  judged.ok ? judged.value.findings.map(f => f.code) : judged.problems

test('a top that is cut at full speed is the end of the range; one that is rounded on a coarse display is not', () => {
  expect(codes(pullTo(share => Math.min(1800, 2400 * share)))).toContain('saturated')
  expect(codes(pullTo(share => 1800 * (1 - (1 - share) ** 6)))).not.toContain('saturated')
})

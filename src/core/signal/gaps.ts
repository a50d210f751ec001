import type { Segment } from '../recording.ts'
import { extentOf } from './extent.ts'
import { nextStep } from './scan.ts'

/** A stretch without samples: `from` is the last sample before it. */
export interface Gap {
  readonly from: number
  readonly fromS: number
  readonly toS: number
}

/** Steps within a segment that are longer than `gapS` seconds. */
export function findGaps(timeS: Float64Array, segments: readonly Segment[], gapS: number): Gap[] {
  const gaps: Gap[] = []
  if (extentOf(timeS).greatestStep <= gapS) return gaps
  for (const { from, to } of segments) {
    const next = (i: number): number => nextStep(timeS, i, to, gapS, Number.POSITIVE_INFINITY)
    for (let i = next(from + 1); i < to; i = next(i + 1))
      gaps.push({ from: i - 1, fromS: timeS[i - 1]!, toS: timeS[i]! })
  }
  return gaps
}

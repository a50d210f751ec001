import type { Recording } from '../recording.ts'
import type { Reading } from './document.ts'
import type { JoinedCurve } from './joinedCurve.ts'

/** Places along a joined curve at which curves of several specimens are put together. */
export interface CurveOrigins {
  readonly start: number
  readonly peak: number
  /** The end of the pull that has the peak: its break, or where it was let down. */
  readonly break: number
}

/** Where a joined curve starts, peaks and breaks, in its own unit along; all three the start where there is no peak. */
export function curveOrigins(curve: JoinedCurve, recording: Recording, reading: Reading): CurveOrigins {
  const start = curve.along[0] ?? 0
  const peakS = reading.results.peakForce.atS
  if (peakS === null) return { start, peak: start, break: start }
  const endS = reading.pulls.find(p => p.startS <= peakS && p.endS >= peakS)?.endS ?? peakS
  const alongAt = (timeS: number): number => curve.along[nearestPoint(curve, recording, timeS)] ?? start
  return { start, peak: alongAt(peakS), break: alongAt(endS) }
}

function nearestPoint({ sample }: JoinedCurve, { timeS }: Recording, wantedS: number): number {
  let best = 0
  for (let i = 0; i < sample.length; i++) {
    const off = Math.abs(timeS[sample[i]!]! - wantedS)
    if (off < Math.abs(timeS[sample[best]!]! - wantedS)) best = i
  }
  return best
}

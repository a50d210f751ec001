import type { Reading } from '../../core/reading/document.ts'
import type { Recording, Segment } from '../../core/recording.ts'
import { readingNoiseN } from '../../core/signal/noise.ts'
import { median, robustSd } from '../../core/signal/order.ts'
import type { Rate } from '../../core/signal/rate.ts'
import { firstAfter, firstAtOrAfter } from '../../core/signal/search.ts'

/** A tap is at most this long, or so many readings; what lasts longer is a hand on the grip. */
const LONGEST_S = 0.25
const LONGEST_READINGS = 4
/** Readings that lie closer than this belong to one tap, which rings. */
const RINGS_S = 0.12
const RINGS_READINGS = 1.5
const LEAST_NOISES = 8
const LEAST_STEPS = 3
/** The level around a reading is the median over this time, so that a tap does not move it. */
const LEVEL_S = 2
const LEAST_LEVEL_READINGS = 7
/** More knocks than this in one stretch without load are handling, not taps. */
const MOST_TAPS = 12

/**
 * Times of the taps on the rig, on the recording's axis: short spikes of force in the stretch before each
 * segment's first pull. A tap is in the first reading that shows it, and a reading tells of the period before
 * its stamp: the tap is put in the middle of that period.
 */
export function findTaps(
  recording: Recording,
  reading: Reading,
  { periodS }: Pick<Rate, 'periodS'>,
): number[] {
  return recording.segments.flatMap(segment => {
    const { from, to } = beforeFirstPull(recording, reading, segment)
    const taps = to - from < LEAST_LEVEL_READINGS ? [] : tapsIn(recording, from, to, reading, periodS)
    return taps.length > MOST_TAPS ? [] : taps
  })
}

function beforeFirstPull(
  { timeS }: Recording,
  { pulls }: Reading,
  segment: Segment,
): { from: number; to: number } {
  const startS = timeS[segment.from] ?? 0
  const endS = timeS[segment.to - 1] ?? 0
  const first = pulls.find(p => p.endS >= startS && p.startS <= endS)
  return {
    from: segment.from,
    to: first === undefined ? segment.to : Math.min(segment.to, firstAtOrAfter(timeS, first.startS)),
  }
}

function tapsIn(
  { timeS, forceN }: Recording,
  from: number,
  to: number,
  { recording: { noiseN, quantumN } }: Reading,
  periodS: number,
): number[] {
  const levelN = levels(timeS, forceN, from, to)
  const offN = forceN.subarray(from, to).map((force, i) => force - levelN[i]!)
  // In a short rest at a slow rate the taps themselves pass for noise: what most readings do counts.
  const restN = readingNoiseN(Math.min(noiseN, robustSd(offN) ?? noiseN), quantumN)
  const leastN = Math.max(LEAST_NOISES * restN, LEAST_STEPS * quantumN)
  const gapS = Math.max(RINGS_S, RINGS_READINGS * periodS)
  const longestS = Math.max(LONGEST_S, LONGEST_READINGS * periodS)
  const taps: number[] = []
  let firstS: number | null = null
  let lastS = Number.NEGATIVE_INFINITY
  const close = (): void => {
    if (firstS !== null && lastS - firstS <= longestS) taps.push(firstS - periodS / 2)
    firstS = null
  }
  for (let i = from; i < to; i++) {
    if (!(Math.abs(offN[i - from]!) > leastN)) continue
    if (timeS[i]! - lastS > gapS) close()
    firstS ??= timeS[i]!
    lastS = timeS[i]!
  }
  // What has not come back when the pull sets in is the pull itself.
  if (lastS < timeS[to - 1]!) close()
  return taps
}

/** The median level around each reading, taken afresh every quarter of its window. */
function levels(timeS: Float64Array, forceN: Float64Array, from: number, to: number): Float64Array {
  const out = new Float64Array(to - from)
  let i = from
  while (i < to) {
    const atS = timeS[i]!
    let a = Math.max(from, firstAtOrAfter(timeS, atS - LEVEL_S / 2))
    let b = Math.min(to, firstAfter(timeS, atS + LEVEL_S / 2))
    if (b - a < LEAST_LEVEL_READINGS) {
      a = Math.max(from, Math.min(a, i - (LEAST_LEVEL_READINGS >> 1)))
      b = Math.min(to, Math.max(b, a + LEAST_LEVEL_READINGS))
    }
    const level = median(forceN.subarray(a, b)) ?? 0
    const until = Math.max(i + 1, Math.min(to, firstAfter(timeS, atS + LEVEL_S / 4)))
    out.fill(level, i - from, until - from)
    i = until
  }
  return out
}

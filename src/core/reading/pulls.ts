import { reachOf } from '../signal/scan.ts'

/** A loading: the samples over the threshold. */
export interface PullSpan {
  /** First sample over the threshold, and one past the last. */
  readonly from: number
  readonly to: number
  /** The samples ran out before the load did. */
  readonly open: boolean
}

/** First sample of the pull that holds a sample; 0 where none does. */
export const pullFrom = (pulls: readonly PullSpan[], index: number): number =>
  pulls.find(({ from, to }) => index >= from && index < to)?.from ?? 0

/** A loading counts when it is over the threshold for longer than this, and ends when it is below for longer than that. */
const LEAST_S = 0.5
const BELOW_S = 0.25

/** max(2 % of the greatest force, 6 standard deviations of the noise, 3 display steps), in N. */
export const pullThresholdN = (greatestN: number, noiseN: number, quantumN: number): number =>
  Math.max(0.02 * greatestN, 6 * noiseN, 3 * quantumN)

/**
 * Loadings within segments, from the force less its zero. A knock is over in half a second and does not count, and
 * what stays below `wanderN`, by which the zero itself is unsure, is no load. What is as short, but stands far out of
 * the noise over some readings and reaches higher than all that lasts, is what the record was made for: a snatch, a
 * shot, a fall.
 */
export function findPulls(
  timeS: Float64Array,
  loadN: Float64Array,
  segments: readonly { readonly from: number; readonly to: number }[],
  thresholdN: number,
  wanderN = 0,
): PullSpan[] {
  const lasting = loadings(timeS, loadN, segments, thresholdN, { leastS: LEAST_S, wanderN })
  const topN = (pull: PullSpan): number => reachOf(loadN, pull.from, pull.to).high
  const clearN = Math.max(wanderN, CLEAR * thresholdN, ...lasting.map(topN))
  const brief = loadings(timeS, loadN, segments, thresholdN, { leastS: 0, wanderN: clearN })
  const clear = brief.filter(({ from, to }) => to - from >= LEAST_SAMPLES)
  const known = new Set(lasting.map(({ from }) => from))
  return [...lasting, ...clear.filter(({ from }) => !known.has(from))].sort((a, b) => a.from - b.from)
}

/** What is shorter than a knock must have so many readings, and reach so many thresholds. */
const LEAST_SAMPLES = 8
const CLEAR = 5

function loadings(
  timeS: Float64Array,
  loadN: Float64Array,
  segments: readonly { readonly from: number; readonly to: number }[],
  thresholdN: number,
  { leastS: atLeastS, wanderN }: { leastS: number; wanderN: number },
): PullSpan[] {
  const found: PullSpan[] = []
  for (const segment of segments) {
    // A short record is lived faster.
    const shareS = (timeS[segment.to - 1]! - timeS[segment.from]!) / 20
    const leastS = Math.min(atLeastS, shareS)
    const belowS = Math.min(BELOW_S, shareS)
    let from = -1
    let last = -1
    const close = (open: boolean): void => {
      if (
        from >= 0 &&
        timeS[last]! - timeS[from]! > leastS &&
        reachOf(loadN, from, last + 1).high > wanderN
      ) {
        found.push({ from, to: last + 1, open })
      }
      from = -1
    }
    for (let i = segment.from; i < segment.to; i++) {
      if (loadN[i]! > thresholdN) {
        if (from < 0) from = i
        last = i
      } else if (from >= 0 && timeS[i]! - timeS[last]! > belowS) close(false)
    }
    close(from >= 0 && timeS[segment.to - 1]! - timeS[last]! < 1e-12)
  }
  return found
}

import { findPulls, pullThresholdN } from '../../core/reading/pulls.ts'
import { joined, type Stretch, statesUnderLoad } from '../../core/reading/states.ts'
import { greatestAt } from '../../core/signal/scan.ts'
import type { CaptureState, LiveEvent, LiveReading } from '../../server/apiTypes.ts'
import type { GrowingCurve } from '../live/growingCurve.ts'
import type { Band } from '../parts/curve/types.ts'
import { withRegrips } from './liveRegrips.ts'

/** Longer than this without a sample is a hole. */
const HOLE_S = 1

/** What the curve on the screen holds. */
export interface LiveStrip {
  readonly bands: readonly Band[]
  /** The greatest force and where it stands; `null` for no points. */
  readonly top: { readonly atS: number; readonly forceN: number } | null
  /** Seconds under load. */
  readonly loadingS: number
}

interface Told {
  readonly zeroN: number
  readonly capture: Pick<CaptureState, 'pulls' | 'pulling'> | null
  readonly events: readonly Pick<LiveEvent, 'kind' | 'atS'>[]
  readonly restlessN: number
  /** Of what was pulled so far. */
  readonly reading?: LiveReading | null
}

/**
 * The selvedge of a curve that still grows, worked out from the curve and what was told, so that a page that came late
 * shows the same: pulls, holds and unloads by the rules of the reading, re-grips once a reading tells them, no data.
 * The reading's own takes its place at the end.
 */
export function liveStrip(
  curve: Pick<GrowingCurve, 'each' | 'lastS'>,
  { zeroN, capture, events, restlessN, reading = null }: Told,
): LiveStrip {
  const points = pointsOf(curve, zeroN)
  const { timeS, highN } = points
  if (timeS.length === 0) return { bands: [], top: null, loadingS: 0 }
  const topAt = greatestAt(highN, 0, highN.length)
  const top = { atS: timeS[topAt]!, forceN: highN[topAt]! }
  const hasPulled = capture !== null && (capture.pulls > 0 || capture.pulling)
  const segments = segmentsOf(timeS)
  const pulls = hasPulled ? findPulls(timeS, highN, segments, pullThresholdN(top.forceN, restlessN, 0)) : []
  const stretches: Stretch[] = []
  let loadingS = 0
  for (const [k, { from, to }] of segments.entries()) {
    let atS = timeS[from]!
    if (k > 0) stretches.push({ kind: 'gap', fromS: timeS[from - 1]!, toS: atS })
    for (const pull of pulls.filter(p => p.from >= from && p.to <= to)) {
      const fromS = timeS[pull.from]!
      const loaded = underLoad(points, pull, events)
      stretches.push({ kind: 'rest', fromS: atS, toS: fromS }, ...loaded)
      for (const { kind, fromS, toS } of loaded) if (kind !== 'unload') loadingS += toS - fromS
      atS = timeS[pull.to - 1]!
    }
    stretches.push({ kind: 'rest', fromS: atS, toS: timeS[to - 1]! })
  }
  const bands = joined(stretches).map(({ kind, fromS, toS }) => ({ kind, from: fromS, to: toS }))
  return { bands: withRegrips(bands, reading), top, loadingS }
}

interface Points {
  readonly timeS: Float64Array
  /** Middle and greatest force of each run of samples, less the zero. */
  readonly forceN: Float64Array
  readonly highN: Float64Array
}

function pointsOf(curve: Pick<GrowingCurve, 'each'>, zeroN: number): Points {
  const time: number[] = []
  const middle: number[] = []
  const high: number[] = []
  curve.each((atS, lowN, highN) => {
    time.push(atS)
    middle.push((lowN + highN) / 2 - zeroN)
    high.push(highN - zeroN)
  })
  return {
    timeS: new Float64Array(time),
    forceN: new Float64Array(middle),
    highN: new Float64Array(high),
  }
}

/** Points without a hole between them. */
function segmentsOf(timeS: Float64Array): { from: number; to: number }[] {
  const segments: { from: number; to: number }[] = []
  let from = 0
  for (let i = 1; i <= timeS.length; i++) {
    if (i < timeS.length && timeS[i]! - timeS[i - 1]! <= HOLE_S) continue
    segments.push({ from, to: i })
    from = i
  }
  return segments
}

/** A pull as the reading has it, by what was told of it so far. */
function underLoad(
  { timeS, forceN, highN }: Points,
  { from, to }: { readonly from: number; readonly to: number },
  events: Told['events'],
): Stretch[] {
  const [fromS, toS] = [timeS[from]!, timeS[to - 1]!]
  const top = greatestAt(highN, from, to)
  const told = events.filter(({ atS }) => atS > fromS && atS < toS)
  return statesUnderLoad(
    { timeS, forceN },
    {
      ...{ fromS, toS, topN: highN[top]!, topS: timeS[top]! },
      letDownS: told.find(({ kind }) => kind === 'unload')?.atS ?? null,
      lossesS: told
        .filter(({ kind }) => kind !== 'unload')
        .map(({ atS }) => atS)
        .sort((a, b) => a - b),
    },
  )
}

/** Lengths of the lower axis, in seconds: it grows in steps, so that the curve runs across a page that stands still. */
const SPANS = [20, 30, 45, 60, 90, 120, 180, 240, 300, 450, 600, 900, 1_200, 1_800, 2_700, 3_600]

/** The lower axis for a curve from `fromS` to `toS`. */
export function axisOf(fromS: number, toS: number): { readonly from: number; readonly to: number } {
  const needed = (toS - fromS) * 1.02
  const span = SPANS.find(s => s >= needed) ?? 3_600 * Math.ceil(needed / 3_600)
  return { from: fromS, to: fromS + span }
}

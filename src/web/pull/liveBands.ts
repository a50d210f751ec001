import type { CaptureState, LiveEvent, LiveReading } from '../../server/apiTypes.ts'
import type { GrowingCurve } from '../live/growingCurve.ts'
import type { Band } from '../parts/curve/types.ts'
import { withHolds } from './liveHolds.ts'
import { withRegrips } from './liveRegrips.ts'

/** A load that lasts less is a knock. */
const SHORTEST_S = 0.5
/** Share of the greatest force from which on the specimen counts as loaded. */
const LOADED_SHARE = 0.02
const HOLE_S = 1

/** What the curve on the screen holds. */
export interface LiveStrip {
  readonly bands: readonly Band[]
  /** The greatest force and where it stands; `null` for no points. */
  readonly top: { readonly atS: number; readonly forceN: number } | null
  /** Seconds under load. */
  readonly loadingS: number
}

/**
 * The selvedge of a curve that still grows, worked out from the curve and what was told, so that a page that came late
 * shows the same: rest, loading, hold, backing off after an unload that was told of, re-grip once a reading tells it, no data.
 * The reading's own takes its place at the end.
 */
export function liveStrip(
  curve: Pick<GrowingCurve, 'each' | 'lastS'>,
  {
    zeroN,
    capture,
    events,
    restlessN,
    reading = null,
  }: {
    readonly zeroN: number
    readonly capture: Pick<CaptureState, 'pulls' | 'pulling'> | null
    readonly events: readonly Pick<LiveEvent, 'kind' | 'atS'>[]
    readonly restlessN: number
    /** Of what was pulled so far. */
    readonly reading?: LiveReading | null
  },
): LiveStrip {
  let top: LiveStrip['top'] = null
  curve.each((atS, _, highN) => {
    if (top === null || highN - zeroN > top.forceN) top = { atS, forceN: highN - zeroN }
  })
  const greatestN = (top as LiveStrip['top'])?.forceN ?? 0
  const hasPulled = capture !== null && (capture.pulls > 0 || capture.pulling)
  const overN = hasPulled ? Math.max(LOADED_SHARE * greatestN, 4 * restlessN) : Number.POSITIVE_INFINITY
  const raw: Band[] = []
  let before = Number.NaN
  const put = (kind: Band['kind'], from: number, to: number): void => {
    const last = raw.at(-1)
    if (last?.kind === kind) raw[raw.length - 1] = { kind, from: last.from, to }
    else if (to > from) raw.push({ kind, from, to })
  }
  curve.each((atS, _, highN) => {
    if (!Number.isNaN(before)) {
      const kind = atS - before > HOLE_S ? 'gap' : highN - zeroN > overN ? 'loading' : 'rest'
      put(kind, before, atS)
    }
    before = atS
  })
  const loads = withUnloads(withoutKnocks(raw), events)
  const loadingS = loads.reduce((sum, { kind, from, to }) => sum + (kind === 'loading' ? to - from : 0), 0)
  const bands = withRegrips(withHolds(loads, curve, zeroN, events), reading)
  return { bands, top, loadingS }
}

function withoutKnocks(raw: readonly Band[]): Band[] {
  const kept: Band[] = []
  raw.forEach(({ kind, from, to }, i) => {
    // The last stretch still grows: it is what it is.
    const isShort = kind === 'loading' && to - from < SHORTEST_S && i < raw.length - 1
    const shown = isShort ? 'rest' : kind
    const last = kept.at(-1)
    if (last?.kind === shown) kept[kept.length - 1] = { kind: shown, from: last.from, to }
    else kept.push({ kind: shown, from, to })
  })
  return kept
}

/** From where a loading was let down by hand, its end is called so. */
function withUnloads(bands: readonly Band[], events: readonly Pick<LiveEvent, 'kind' | 'atS'>[]): Band[] {
  const unloads = events.filter(({ kind }) => kind === 'unload').map(({ atS }) => atS)
  return bands.flatMap(band => {
    const atS = unloads.find(s => s > band.from && s < band.to)
    if (band.kind !== 'loading' || atS === undefined) return [band]
    return [
      { ...band, to: atS },
      { kind: 'unload' as const, from: atS, to: band.to },
    ]
  })
}

/** Lengths of the lower axis, in seconds: it grows in steps, so that the curve runs across a page that stands still. */
const SPANS = [20, 30, 45, 60, 90, 120, 180, 240, 300, 450, 600, 900, 1_200, 1_800, 2_700, 3_600]

/** The lower axis for a curve from `fromS` to `toS`. */
export function axisOf(fromS: number, toS: number): { readonly from: number; readonly to: number } {
  const needed = (toS - fromS) * 1.02
  const span = SPANS.find(s => s >= needed) ?? 3_600 * Math.ceil(needed / 3_600)
  return { from: fromS, to: fromS + span }
}

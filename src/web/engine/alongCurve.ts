import type { JoinedCurve } from '../../core/reading/joinedCurve.ts'
import type { Stretch, StretchKind } from '../../core/reading/states.ts'
import { buildPyramid, type Pyramid, sliceForDisplay, type Thinned } from '../../core/signal/pyramid.ts'
import { firstAfter, firstAtOrAfter } from '../../core/signal/search.ts'
import type { TimeSpan } from './types.ts'

/**
 * A joined curve made ready for drawing. Its points need not rise along the axis: a travel that is logged with noise
 * steps back, and so does a part that was moved. The pyramid therefore lies over the points' places in the curve.
 */
export interface AlongCurve {
  readonly along: Float64Array
  /** Farthest so far at each point, and nearest still to come: both never fall. */
  readonly farthest: Float64Array
  readonly nearest: Float64Array
  readonly pyramid: Pyramid
}

export function alongCurve({ along, forceN }: Pick<JoinedCurve, 'along' | 'forceN'>): AlongCurve {
  const n = along.length
  const farthest = new Float64Array(n)
  const nearest = new Float64Array(n)
  for (let i = 0; i < n; i++) farthest[i] = Math.max(along[i]!, i > 0 ? farthest[i - 1]! : along[i]!)
  for (let i = n - 1; i >= 0; i--) nearest[i] = Math.min(along[i]!, i < n - 1 ? nearest[i + 1]! : along[i]!)
  return {
    along,
    farthest,
    nearest,
    pyramid: buildPyramid(
      Float64Array.from(along, (_, i) => i),
      forceN,
    ),
  }
}

/** Every point that may lie between `from` and `to`, thinned; in the order of the curve, not of the axis. */
export function alongSlice(
  { along, farthest, nearest, pyramid }: AlongCurve,
  from: number,
  to: number,
  pixels: number,
): Thinned {
  const first = firstAtOrAfter(farthest, from)
  const last = firstAfter(nearest, to) - 1
  if (last < first) return { timeS: new Float64Array(0), value: new Float64Array(0) }
  const { timeS: places, value } = sliceForDisplay(pyramid, first, Math.max(last, first + 1), pixels)
  return { timeS: places.map(place => along[place]!), value }
}

/** Where on the axis the curve begins and ends; `null` where it has no points. */
export function alongEnds({
  farthest,
  nearest,
}: AlongCurve): { readonly from: number; readonly to: number } | null {
  const from = nearest[0]
  const to = farthest.at(-1)
  return from === undefined || to === undefined || !(to > from) ? null : { from, to }
}

/**
 * The selvedge of a joined curve, on its own axis: loading and holds, begun anew where a pull was joined to the one
 * before. All else was left out of the curve; of a re-grip its place is told, as a stretch without length.
 */
export function alongSelvedge(
  { along, sample, joins }: Pick<JoinedCurve, 'along' | 'sample' | 'joins'>,
  timeS: Float64Array,
  selvedge: readonly Stretch[],
  regripsS: readonly number[],
): Stretch[] {
  const joined = new Set(joins.map(join => join.point))
  const stretches: { kind: StretchKind; fromS: number; toS: number }[] = []
  let at = 0
  for (let i = 0; i < along.length; i++) {
    const t = timeS[sample[i]!]!
    while (at < selvedge.length - 1 && selvedge[at]!.toS <= t) at++
    const kind = selvedge[at]?.kind === 'hold' ? 'hold' : 'loading'
    const x = along[i]!
    const last = stretches.at(-1)
    if (last) last.toS = Math.max(last.toS, x)
    const beforeS = i > 0 ? timeS[sample[i - 1]!]! : t
    if (joined.has(i) && regripsS.some(atS => atS >= beforeS && atS <= t))
      stretches.push({ kind: 'regrip', fromS: x, toS: x })
    if (last?.kind !== kind || joined.has(i)) stretches.push({ kind, fromS: x, toS: x })
  }
  return stretches.filter(({ kind, fromS, toS }) => toS > fromS || kind === 'regrip')
}

/** Where on the axis a moment lies: at its sample, or at the next that is drawn; `null` after the last. */
export function alongAt(
  { along, sample }: Pick<JoinedCurve, 'along' | 'sample'>,
  timeS: Float64Array,
  atS: number,
): number | null {
  let low = 0
  let high = sample.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (timeS[sample[middle]!]! < atS) low = middle + 1
    else high = middle
  }
  return along[low] ?? null
}

/** Where on the axis the samples of a stretch of time lie; `null` where none of them is drawn. */
export function alongSpan(
  { along, sample }: Pick<JoinedCurve, 'along' | 'sample'>,
  timeS: Float64Array,
  { fromS, toS }: TimeSpan,
): { readonly from: number; readonly to: number } | null {
  let from = Number.POSITIVE_INFINITY
  let to = Number.NEGATIVE_INFINITY
  for (let i = 0; i < along.length; i++) {
    const t = timeS[sample[i]!]!
    if (t < fromS || t > toS) continue
    from = Math.min(from, along[i]!)
    to = Math.max(to, along[i]!)
  }
  return to >= from ? { from, to } : null
}

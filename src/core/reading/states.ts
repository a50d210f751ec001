import { firstAfter, firstAtOrAfter } from '../signal/search.ts'

/**
 * What was going on, told by one rule wherever it is told: the selvedge of a reading, and the strip of a curve that
 * still grows. Which samples belong to a pull is decided in pulls.ts, and which stretches show the empty cell in zero/.
 */

/** What went on during a stretch of a recording; `gap` is where nothing was recorded. */
export type StretchKind = 'rest' | 'loading' | 'hold' | 'unload' | 'regrip' | 'gap'

export interface Stretch {
  readonly kind: StretchKind
  readonly fromS: number
  readonly toS: number
}

/** A pull, as far as it has come. Forces less the zero. */
export interface Load {
  readonly fromS: number
  readonly toS: number
  /** The greatest force so far, and when. */
  readonly topN: number
  readonly topS: number
  /** From when on it was let down by hand; `null` where it was not. */
  readonly letDownS: number | null
  /** Instants at which load was lost, in order. */
  readonly lossesS: readonly number[]
}

/** A pull is looked at in steps of this long, or of this many samples where sampling is slow. */
const STEP_S = 0.4
const STEP_SAMPLES = 5
/** Beside the pull's mean loading rate: a hold is slower than the first, an unload falls faster than the second. */
const HOLD_SHARE = 0.1
const UNLOAD_SHARE = 0.25

/** A pull in stretches without holes: loading, unless the force stands still or is let down by hand. */
export function statesUnderLoad(
  { timeS, forceN }: { readonly timeS: Float64Array; readonly forceN: Float64Array },
  load: Load,
): Stretch[] {
  const { fromS, toS, topN, topS, letDownS, lossesS } = load
  const first = firstAtOrAfter(timeS, fromS)
  const last = firstAfter(timeS, toS) - 1
  if (last <= first) return toS > fromS ? [{ kind: 'loading', fromS, toS }] : []
  const rateNPerS = topN / Math.max(topS - fromS, STEP_S)
  const stepS = Math.max(STEP_S, (STEP_SAMPLES * (timeS[last]! - timeS[first]!)) / (last - first))
  const stretches: Stretch[] = []
  let loss = 0
  let next = first
  for (let a = first; a < last; a = next) {
    next = stepEnd(timeS, a, last, stepS, letDownS)
    const [beginS, endS] = [timeS[a]!, timeS[next]!]
    const lastsS = endS - beginS
    while (loss < lossesS.length && lossesS[loss]! < beginS - lastsS) loss++
    const lost = loss < lossesS.length && lossesS[loss]! <= endS
    const slope = (forceN[next]! - forceN[a]!) / lastsS
    let kind: StretchKind = 'loading'
    if (!lost && Math.abs(slope) < HOLD_SHARE * rateNPerS) kind = 'hold'
    else if (!lost && letDownS !== null && beginS >= letDownS && slope < -UNLOAD_SHARE * rateNPerS)
      kind = 'unload'
    stretches.push({ kind, fromS: a === first ? fromS : beginS, toS: next === last ? toS : endS })
  }
  return withoutFlickers(joined(stretches))
}

/** Where the step that begins at a sample ends: it goes over no moment at which the letting down begins. */
function stepEnd(
  timeS: Float64Array,
  from: number,
  last: number,
  stepS: number,
  letDownS: number | null,
): number {
  const fromS = timeS[from]!
  // Times are sums of periods, and no step shall be one longer for their rounding.
  const shortS = stepS * (1 - 1e-6)
  const end = Math.max(from + 1, firstAtOrAfter(timeS, fromS + shortS))
  // What is left is too short to tell: it goes on as what was before it.
  const whole = end >= last || timeS[last]! - timeS[end]! < stepS / 2 ? last : end
  if (letDownS === null || letDownS <= fromS || letDownS >= timeS[whole]!) return whole
  return Math.max(from + 1, firstAtOrAfter(timeS, letDownS))
}

/** A hold of one step only is a slow turn of the nut, not a hold. */
const withoutFlickers = (stretches: readonly Stretch[]): Stretch[] =>
  joined(
    stretches.map(s =>
      s.kind === 'hold' && s.toS - s.fromS < 2 * STEP_S ? { ...s, kind: 'loading' as const } : s,
    ),
  )

/** Neighbours of one kind as one; none without length. */
export function joined(stretches: readonly Stretch[]): Stretch[] {
  const out: Stretch[] = []
  for (const stretch of stretches) {
    if (!(stretch.toS > stretch.fromS)) continue
    const last = out.at(-1)
    if (last && last.kind === stretch.kind) out[out.length - 1] = { ...last, toS: stretch.toS }
    else out.push(stretch)
  }
  return out
}

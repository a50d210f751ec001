import type { Recording } from '../recording.ts'
import { firstAtOrAfter } from '../signal/search.ts'
import type { Pull, Reading } from './document.ts'

/** What went on during a stretch of a recording; `gap` is where nothing was recorded. */
export type StretchKind = 'rest' | 'loading' | 'hold' | 'unload' | 'regrip' | 'gap'

export interface Stretch {
  readonly kind: StretchKind
  readonly fromS: number
  readonly toS: number
}

/** The word that stands in the strip. */
export const STRETCH_WORDS: Readonly<Record<StretchKind, string>> = {
  rest: 'rest',
  loading: 'loading',
  hold: 'hold',
  unload: 'unload',
  regrip: 're-grip',
  gap: 'no data',
}

/** A pull is looked at in steps of this long, or of this many samples where sampling is slow. */
export const STEP_S = 0.4
const STEP_SAMPLES = 5
/** Beside the pull's mean loading rate: a hold is slower than the first, an unload falls faster than the second. */
export const HOLD_SHARE = 0.1
const UNLOAD_SHARE = 0.25
/** Handling shorter than this is left to the stretch beside it. */
const SHORTEST_S = 0.5

/**
 * The selvedge: what was going on, from the first sample to the last, without holes or overlap.
 * A picture of the reading for people; no result rests on it.
 */
export function selvedge(recording: Recording, reading: Reading): Stretch[] {
  const { startS, endS } = reading.recording
  const stretches: Stretch[] = []
  let atS = startS
  for (const pull of reading.pulls) {
    stretches.push(...betweenPulls(reading, atS, pull.startS))
    stretches.push(...withinPull(recording, reading, pull))
    atS = Math.max(atS, pull.endS)
  }
  stretches.push(...betweenPulls(reading, atS, endS))
  return joined(withGaps(stretches, noData(recording, reading)))
}

/** Outside the pulls: rest where a zero was taken; between two pulls the remainder is re-gripping. */
export function betweenPulls(reading: Reading, fromS: number, toS: number): Stretch[] {
  if (!(toS > fromS)) return []
  const between = reading.pulls.some(p => p.endS <= fromS) && reading.pulls.some(p => p.startS >= toS)
  const handled = between && reading.events.some(e => e.kind === 'regrip' && e.atS >= fromS && e.atS <= toS)
  if (!handled) return [{ kind: 'rest', fromS, toS }]
  const stretches: Stretch[] = []
  let atS = fromS
  const rests = reading.zeros
    .filter(zero => zero.basis === 'rest' && zero.toS > fromS && zero.fromS < toS)
    .sort((a, b) => a.fromS - b.fromS)
  for (const zero of rests) {
    const restFromS = Math.max(zero.fromS, atS)
    const restToS = Math.min(zero.toS, toS)
    if (restFromS - atS >= SHORTEST_S) stretches.push({ kind: 'regrip', fromS: atS, toS: restFromS })
    const beginsS = restFromS - atS >= SHORTEST_S ? restFromS : atS
    if (restToS > beginsS) stretches.push({ kind: 'rest', fromS: beginsS, toS: restToS })
    atS = Math.max(atS, restToS)
  }
  if (toS - atS >= SHORTEST_S || rests.length === 0) stretches.push({ kind: 'regrip', fromS: atS, toS })
  else if (toS > atS) stretches.push({ kind: 'rest', fromS: atS, toS })
  return stretches
}

/** A pull in steps: loading, unless the force stands still or is let down by hand. */
function withinPull(recording: Recording, reading: Reading, pull: Pull): Stretch[] {
  const { timeS, forceN } = recording
  const from = firstAtOrAfter(timeS, pull.startS)
  const to = firstAtOrAfter(timeS, pull.endS)
  const rateNPerS = pull.peakN / Math.max(pull.peakS - pull.startS, STEP_S)
  const step = Math.max(STEP_SAMPLES, Math.round(STEP_S * reading.recording.rateHz))
  const stretches: Stretch[] = []
  let atS = pull.startS
  for (let a = from; a < to; a += step) {
    const b = Math.min(a + step, to)
    const toS = b >= to ? pull.endS : timeS[b]!
    const spanS = timeS[Math.min(b, timeS.length - 1)]! - timeS[a]!
    const slope = spanS > 0 ? (forceN[Math.min(b, forceN.length - 1)]! - forceN[a]!) / spanS : 0
    const broke = reading.events.some(
      e => e.kind !== 'unload' && e.dropN > 0 && e.atS >= atS - spanS && e.atS <= toS,
    )
    let kind: StretchKind = 'loading'
    if (!broke && Math.abs(slope) < HOLD_SHARE * rateNPerS) kind = 'hold'
    else if (!broke && pull.ends === 'unload' && atS >= pull.peakS && slope < -UNLOAD_SHARE * rateNPerS)
      kind = 'unload'
    stretches.push({ kind, fromS: atS, toS })
    atS = toS
  }
  if (stretches.length === 0) return [{ kind: 'loading', fromS: pull.startS, toS: pull.endS }]
  return withoutFlickers(joined(stretches))
}

/** A hold of one step only is a slow turn of the nut, not a hold. */
const withoutFlickers = (stretches: readonly Stretch[]): Stretch[] =>
  joined(
    stretches.map(s =>
      s.kind === 'hold' && s.toS - s.fromS < 2 * STEP_S ? { ...s, kind: 'loading' as const } : s,
    ),
  )

/** Where nothing was recorded: gaps, and the unknown time before a new segment. */
function noData(recording: Recording, reading: Reading): Stretch[] {
  const seams = recording.segments.slice(1).map(segment => ({
    kind: 'gap' as const,
    fromS: recording.timeS[Math.max(0, segment.from - 1)]!,
    toS: recording.timeS[Math.min(segment.from, recording.timeS.length - 1)]!,
  }))
  const gaps = reading.recording.gaps.map(gap => ({ kind: 'gap' as const, ...gap }))
  return [...seams, ...gaps].sort((a, b) => a.fromS - b.fromS)
}

function withGaps(stretches: readonly Stretch[], gaps: readonly Stretch[]): Stretch[] {
  let pieces = [...stretches]
  for (const gap of gaps) {
    pieces = pieces.flatMap(piece => {
      if (gap.toS <= piece.fromS || gap.fromS >= piece.toS) return [piece]
      const parts: Stretch[] = []
      if (gap.fromS > piece.fromS) parts.push({ ...piece, toS: gap.fromS })
      parts.push({ kind: 'gap', fromS: Math.max(gap.fromS, piece.fromS), toS: Math.min(gap.toS, piece.toS) })
      if (gap.toS < piece.toS) parts.push({ ...piece, fromS: gap.toS })
      return parts
    })
  }
  return pieces
}

function joined(stretches: readonly Stretch[]): Stretch[] {
  const out: Stretch[] = []
  for (const stretch of stretches) {
    if (!(stretch.toS > stretch.fromS)) continue
    const last = out.at(-1)
    if (last && last.kind === stretch.kind) out[out.length - 1] = { ...last, toS: stretch.toS }
    else out.push(stretch)
  }
  return out
}

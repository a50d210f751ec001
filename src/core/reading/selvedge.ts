import type { Recording } from '../recording.ts'
import type { Pull, Reading } from './document.ts'
import { joined, type Stretch, type StretchKind, statesUnderLoad } from './states.ts'

/** The word that stands in the strip. */
export const STRETCH_WORDS: Readonly<Record<StretchKind, string>> = {
  rest: 'rest',
  loading: 'loading',
  hold: 'hold',
  unload: 'unload',
  regrip: 're-grip',
  gap: 'no data',
}

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

/** A pull as it was read; an unload sets in at the top or later. */
const withinPull = (recording: Recording, reading: Reading, pull: Pull): Stretch[] =>
  statesUnderLoad(recording, {
    fromS: pull.startS,
    toS: pull.endS,
    topN: pull.peakN,
    topS: pull.peakS,
    letDownS: pull.ends === 'unload' ? pull.peakS : null,
    lossesS: reading.events.filter(e => e.kind !== 'unload' && e.dropN > 0).map(e => e.atS),
  })

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

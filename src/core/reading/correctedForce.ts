import type { Recording } from '../recording.ts'
import { firstAtOrAfter } from '../signal/search.ts'
import type { Reading, Zero } from './document.ts'

interface Knot {
  readonly atS: number
  readonly levelN: number
}

/**
 * Force as it was read, sample by sample, in newton: the recording's force less the zero that stood at the time.
 * Between two rests with one setting of the zero its level runs straight; before the first and after the last it is
 * level. A new segment and a zero set again begin anew. Single wild readings are bridged, as the reading does.
 */
export function correctedForce(recording: Recording, reading: Reading): Float64Array {
  const { timeS, segments } = recording
  const out = bridged(recording, reading)
  const rezeros = reading.events.filter(e => e.kind === 'rezero').map(e => firstAtOrAfter(timeS, e.atS))
  for (const segment of segments) {
    const inside = rezeros.filter(i => i > segment.from && i < segment.to)
    const bounds = [segment.from, ...inside, segment.to]
    for (let b = 1; b < bounds.length; b++) {
      const from = bounds[b - 1]!
      const to = bounds[b]!
      if (to <= from) continue
      const knots = knotsIn(reading.zeros, timeS[from]!, timeS[to - 1]!)
      let k = 0
      for (let i = from; i < to; i++) {
        const t = timeS[i]!
        while (k < knots.length && knots[k]!.atS < t) k++
        out[i]! -= levelBetween(knots[k - 1], knots[k], t)
      }
    }
  }
  return out
}

/** The ends of the zeros that lie for the most part between two times. */
function knotsIn(zeros: readonly Zero[], fromS: number, toS: number): Knot[] {
  return zeros
    .filter(z => {
      const middleS = (z.fromS + z.toS) / 2
      return middleS >= fromS && middleS <= toS
    })
    .flatMap(z => [
      { atS: z.fromS, levelN: z.levelN },
      { atS: z.toS, levelN: z.levelN },
    ])
    .sort((a, b) => a.atS - b.atS)
}

function levelBetween(before: Knot | undefined, after: Knot | undefined, atS: number): number {
  if (before && after && after.atS > before.atS)
    return before.levelN + ((after.levelN - before.levelN) * (atS - before.atS)) / (after.atS - before.atS)
  return (before ?? after)?.levelN ?? 0
}

/** The force with single wild readings replaced by the middle of their neighbours. */
function bridged({ timeS, forceN, segments }: Recording, reading: Reading): Float64Array {
  const out = forceN.slice()
  for (const { atS } of reading.recording.spikes) {
    const i = firstAtOrAfter(timeS, atS)
    const segment = segments.find(s => i >= s.from && i < s.to)
    if (!segment || i <= segment.from || i >= segment.to - 1) continue
    out[i] = (forceN[i - 1]! + forceN[i + 1]!) / 2
  }
  return out
}

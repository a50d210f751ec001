import { AT_ONCE } from '../../signal/scan.ts'
import { firstAfter } from '../../signal/search.ts'
import type { Epoch } from './epoch.ts'

/** Level of an epoch's zero at a time, in N. */
export function zeroLevelAt({ knots }: Pick<Epoch, 'knots'>, tS: number): number {
  const first = knots[0]
  if (!first) return 0
  if (tS <= first.atS) return first.levelN
  for (let k = 1; k < knots.length; k++) {
    const b = knots[k]!
    if (tS <= b.atS) {
      const a = knots[k - 1]!
      return b.atS > a.atS ? a.levelN + ((b.levelN - a.levelN) * (tS - a.atS)) / (b.atS - a.atS) : b.levelN
    }
  }
  return knots.at(-1)!.levelN
}

/** Force less the zero line, sample by sample. */
export function lessZero(timeS: Float64Array, forceN: Float64Array, epochs: readonly Epoch[]): Float64Array {
  const out = new Float64Array(forceN.length)
  for (const { from, to, knots } of epochs) {
    let i = from
    let levelN = knots[0]?.levelN ?? 0
    for (let k = 0; k < knots.length; k++) {
      const { atS, levelN: next } = knots[k]!
      const before = knots[k - 1]
      const slope = before && atS > before.atS ? (next - levelN) / (atS - before.atS) : 0
      const end = Math.max(i, Math.min(to, firstAfter(timeS, atS)))
      lessLine(timeS, forceN, out, i, end, { levelN, slope, sinceS: before?.atS ?? 0 })
      i = end
      levelN = next
    }
    lessLine(timeS, forceN, out, i, to, { levelN, slope: 0, sinceS: 0 })
  }
  return out
}

interface ZeroLine {
  readonly levelN: number
  readonly slope: number
  readonly sinceS: number
}

function lessLine(
  timeS: Float64Array,
  forceN: Float64Array,
  out: Float64Array,
  from: number,
  to: number,
  line: ZeroLine,
): void {
  for (let a = from; a < to; a += AT_ONCE)
    lessShortLine(timeS, forceN, out, a, Math.min(to, a + AT_ONCE), line)
}

function lessShortLine(
  timeS: Float64Array,
  forceN: Float64Array,
  out: Float64Array,
  from: number,
  to: number,
  { levelN, slope, sinceS }: ZeroLine,
): void {
  for (let i = from; i < to; i++) out[i] = forceN[i]! - (levelN + slope * (timeS[i]! - sinceS))
}

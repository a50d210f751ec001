import type { Epoch } from './zeros.ts'

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
      const sinceS = before?.atS ?? 0
      for (; i < to && timeS[i]! <= atS; i++) out[i] = forceN[i]! - (levelN + slope * (timeS[i]! - sinceS))
      levelN = next
    }
    for (; i < to; i++) out[i] = forceN[i]! - levelN
  }
  return out
}

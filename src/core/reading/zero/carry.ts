import { reachOf } from '../../signal/scan.ts'
import type { Rezero } from '../rezero.ts'
import type { Epoch, ZeroInput } from './epoch.ts'

/** An epoch without a rest takes its zero over the rezero from its neighbour: the load stays, the reading jumps. */
export function carry(
  epochs: readonly Epoch[],
  rezeros: readonly Rezero[],
  { timeS, signal }: ZeroInput,
): Epoch[] {
  const out = [...epochs]
  const take = (k: number, neighbour: Epoch | undefined, shift: number): void => {
    const epoch = out[k]!
    if (!epoch.unseen || !neighbour || neighbour.unseen) return
    const near = neighbour.from < epoch.from ? neighbour.knots.at(-1)! : neighbour.knots[0]!
    out[k] = {
      ...epoch,
      basis: 'carried',
      knots: [{ atS: timeS[epoch.from]!, levelN: near.levelN + shift }],
      standardN: Math.hypot(neighbour.standardN, signal.noiseN, signal.quantumN / 3),
      unseen: false,
    }
  }
  for (let k = 1; k < out.length; k++) take(k, out[k - 1], rezeros[k - 1]!.afterN - rezeros[k - 1]!.beforeN)
  for (let k = out.length - 2; k >= 0; k--) take(k, out[k + 1], rezeros[k]!.beforeN - rezeros[k]!.afterN)
  return out
}

/**
 * A segment of the same log in which no rest is seen, and which does not begin at nought, was not zeroed anew: the cell
 * and its zero are those of the segment before.
 */
export function carryOverSegments(epochs: Epoch[], { timeS, forceN, segments, signal }: ZeroInput): void {
  for (let k = 1; k < epochs.length; k++) {
    const before = epochs[k - 1]!
    const epoch = epochs[k]!
    const segment = segments.find(s => s.from === epoch.from)
    if (!epoch.unseen || before.unseen || segment?.began !== 'reset') continue
    const { low, high } = reachOf(forceN, epoch.from, epoch.to)
    if (Math.abs(forceN[epoch.from]!) < NOUGHT_SHARE * (high - low)) continue
    epochs[k] = {
      ...epoch,
      basis: 'carried',
      knots: [{ atS: timeS[epoch.from]!, levelN: before.knots.at(-1)!.levelN }],
      standardN: Math.hypot(before.standardN, before.movedN / 2, signal.noiseN, signal.quantumN / 3),
      unseen: false,
    }
  }
}

/** A segment that begins this near to nought may have been zeroed. */
const NOUGHT_SHARE = 0.02

import { levelsBySpending } from '../plan/boundaries.ts'

/** A study that is looked at more than once: specimens of each group at its earlier looks, rising. */
export interface Looks {
  readonly earlier: readonly number[]
}

/** Share of the chance of a false alarm that every look keeps back for those after it. */
export const KEPT_BACK = 0.2

/**
 * The level at which this look is judged, so that over all looks together, however many there will be, the chance of even
 * one false alarm among `count` pairs stays `alpha`: look k may bring what is spent to α (1 − 0.2^k), 4 of 5 in 100 at the first.
 * Spending after Lan and DeMets (Biometrika 70 (1983) 659), shared over the pairs after Bonferroni; the bounds take in how
 * the looks hang together. `now`: specimens of each group.
 */
export function levelAtLook(alpha: number, { earlier }: Looks, now: number, count: number): number {
  const own = alpha / Math.max(1, count)
  if (earlier.length === 0) return alpha * (1 - KEPT_BACK)
  const information = [...earlier, now].map(n => n / now)
  const levels = levelsBySpending(information, look => own * (1 - KEPT_BACK ** (look + 1)))
  return Math.min(1, Math.max(1, count) * levels.at(-1)!)
}

/** The α over all looks at which a family's p at this look would just be seen. */
export function pOverLooks(p: number, looks: Looks, now: number, count: number): number {
  if (looks.earlier.length === 0) return Math.min(1, p / (1 - KEPT_BACK))
  let [low, high] = [Math.log(Math.max(1e-12, p)), Math.log(0.999)]
  if (levelAtLook(Math.exp(low), looks, now, count) >= p) return Math.exp(low)
  if (levelAtLook(Math.exp(high), looks, now, count) < p) return 1
  for (let turn = 0; turn < 40; turn++) {
    const middle = (low + high) / 2
    if (levelAtLook(Math.exp(middle), looks, now, count) >= p) high = middle
    else low = middle
  }
  return Math.exp(high)
}

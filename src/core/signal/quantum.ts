import { quantileSorted } from './order.ts'

const RUNS = 40
const RUN_LENGTH = 500
/** Differences up to this many steps are looked at: beyond it, rounding in the log blurs the multiples. */
const MOST_STEPS = 8

/**
 * The step of the display in N: the smallest difference of which the small differences between neighbouring
 * samples are whole multiples. 0 where none can be seen (too few changes, or values that lie on no grid).
 */
export function displayStep(forceN: Float64Array): number {
  const differences: number[] = []
  const runs = Math.min(RUNS, Math.ceil(forceN.length / RUN_LENGTH))
  let greatest = 0
  for (let run = 0; run < runs; run++) {
    const from = Math.floor((run * forceN.length) / runs)
    const to = Math.min(forceN.length, from + RUN_LENGTH)
    for (let i = from + 1; i < to; i++) {
      const difference = Math.abs(forceN[i]! - forceN[i - 1]!)
      if (difference > 0) differences.push(difference)
      greatest = Math.max(greatest, Math.abs(forceN[i]!))
    }
  }
  // Equal readings may differ in the last bits after a conversion of units.
  const sorted = Float64Array.from(differences.filter(d => d > 1e-9 * greatest)).sort()
  if (sorted.length < 8) return 0
  const smallest = quantileSorted(sorted, 0.01)!
  let ones = 0
  let sum = 0
  for (const d of sorted) {
    if (d >= 1.5 * smallest) break
    if (d <= 0.5 * smallest) continue
    ones++
    sum += d
  }
  const step = sum / ones
  let small = 0
  let onGrid = 0
  for (const d of sorted) {
    if (d >= (MOST_STEPS + 0.5) * step) break
    small++
    if (Math.abs(d / step - Math.round(d / step)) < 0.15 && d > 0.5 * step) onGrid++
  }
  // Differences spread evenly would lie on the grid three times in ten.
  return onGrid >= 0.95 * small && small >= 8 ? step : 0
}

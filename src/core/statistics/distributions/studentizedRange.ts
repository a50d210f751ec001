import { chiMixture } from './chiMixture.ts'
import { normalCdf, normalPdf, normalUpperTail } from './normal.ts'
import { gaussLegendre } from './quadrature.ts'
import { findRoot } from './root.ts'

/** Where the largest of the values may lie, in standard deviations: what is left out is below 1e-17. */
const FROM = -9
const TO = 12
const PANELS = 3
const GRID = gridOfLargest()

/** One fixed grid for the largest value z, with its density, weight and lower tail worked out once. */
function gridOfLargest() {
  const rule = gaussLegendre(40)
  const half = (TO - FROM) / (2 * PANELS)
  const z: number[] = []
  const weight: number[] = []
  for (let panel = 0; panel < PANELS; panel++) {
    const middle = FROM + half * (2 * panel + 1)
    rule.nodes.forEach((node, i) => {
      z.push(middle + half * node)
      weight.push(half * rule.weights[i]! * normalPdf(middle + half * node))
    })
  }
  return { z, weight, below: z.map(normalCdf), above: z.map(normalUpperTail) }
}

/** P(range ≤ w) of `count` standard normal values: count ∫ φ(z) [Φ(z) − Φ(z − w)]^(count−1) dz. */
function rangeCdf(w: number, count: number): number {
  const { z, weight, below, above } = GRID
  let sum = 0
  for (let i = 0; i < z.length; i++) {
    const other = z[i]! - w
    // Above 0 the difference is taken between upper tails, which are the smaller numbers.
    const between = other > 0 ? normalUpperTail(other) - above[i]! : below[i]! - normalCdf(other)
    sum += weight[i]! * between ** (count - 1)
  }
  return count * sum
}

/** P(range > w): the same with count ∫ φ Φ^(count−1) = 1 taken off term by term, so that small tails keep their digits. */
function rangeUpper(w: number, count: number): number {
  const { z, weight, below } = GRID
  let sum = 0
  for (let i = 0; i < z.length; i++) {
    const ratio = normalCdf(z[i]! - w) / below[i]!
    const outside = ratio >= 1 ? 1 : -Math.expm1((count - 1) * Math.log1p(-ratio))
    sum += weight[i]! * below[i]! ** (count - 1) * outside
  }
  return count * sum
}

/**
 * P(Q ≤ q) of the studentized range of `count` means with `df` degrees of freedom (∞ allowed): the range of
 * `count` standard normal values over an independent √(χ²/df).
 * The double integral of Copenhaver and Holland (1988, J. Statist. Comput. Simul. 30:1, equations 1 and 2) by
 * Gauss–Legendre in both directions. `count` ≥ 2, `df` ≥ 1.
 */
export function studentizedRangeCdf(q: number, count: number, df: number): number {
  if (q <= 0) return 0
  const p = df === Infinity ? rangeCdf(q, count) : chiMixture(s => rangeCdf(q * s, count), df)
  return Math.min(1, p)
}

/** P(Q > q): the p-value of Tukey's and of Games and Howell's comparisons. Relatively accurate down to about 1e-15. */
export function studentizedRangeUpperTail(q: number, count: number, df: number): number {
  if (q <= 0) return 1
  const p = df === Infinity ? rangeUpper(q, count) : chiMixture(s => rangeUpper(q * s, count), df)
  return Math.min(1, p)
}

/** q with P(Q ≤ q) = p, 0 < p < 1. */
export function studentizedRangeQuantile(p: number, count: number, df: number): number {
  const off =
    p < 0.5
      ? (q: number) => Math.log(studentizedRangeCdf(q, count, df) / p)
      : (q: number) => Math.log((1 - p) / studentizedRangeUpperTail(q, count, df))
  let low = 2
  let high = 4
  while (off(low) > 0) low /= 2
  while (off(high) < 0) high *= 2
  return findRoot(off, low, high)
}

import { chiMixture } from './chiMixture.ts'
import { rangeOfNormals } from './rangeOfNormals.ts'
import { findRoot } from './root.ts'

/** Up to this range the logarithms are interpolated; beyond it the upper tail (under 1e-28) follows its asymptote. */
const TABLE_END = 16
/** Chebyshev points a unit of w. */
const POINTS = 18
const NODES = Float64Array.from({ length: POINTS }, (_, i) => Math.cos((Math.PI * (i + 0.5)) / POINTS))
const NODE_WEIGHTS = NODES.map((_, i) => (i % 2 === 0 ? 1 : -1) * Math.sin((Math.PI * (i + 0.5)) / POINTS))

/** Both logarithms at the Chebyshev points of each unit of w; `cdf` less its bend (count − 1) ln w at 0. */
interface RangeTable {
  readonly cdf: readonly Float64Array[]
  readonly upper: readonly Float64Array[]
}

const tables = new Map<number, RangeTable>()

/**
 * P(Q ≤ q) of the studentized range of `count` means with `df` degrees of freedom (∞ allowed): the range of
 * `count` standard normal values over an independent √(χ²/df). `count` ≥ 2, `df` ≥ 1.
 *
 * The double integral of Copenhaver and Holland (1988, J. Statist. Comput. Simul. 30:1, equations 1 and 2). The inner
 * one depends on w and `count` alone: it is worked out once for each `count` and interpolated, so that many degrees
 * of freedom (as Games and Howell's comparisons need) cost little.
 */
export function studentizedRangeCdf(q: number, count: number, df: number): number {
  if (q <= 0) return 0
  const table = tableFor(count)
  const log = (s: number): number => logCdf(q * s, count, table)
  return Math.min(1, df === Infinity ? Math.exp(log(1)) : chiMixture(log, df))
}

/** P(Q > q): the p-value of Tukey's and of Games and Howell's comparisons. Digits hold down to about 1e-15. */
export function studentizedRangeUpperTail(q: number, count: number, df: number): number {
  if (q <= 0) return 1
  const table = tableFor(count)
  const log = (s: number): number => logUpper(q * s, table)
  return Math.min(1, df === Infinity ? Math.exp(log(1)) : chiMixture(log, df))
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

function logCdf(w: number, count: number, table: RangeTable): number {
  return w >= TABLE_END ? 0 : (count - 1) * Math.log(w) + interpolated(table.cdf, w)
}

function logUpper(w: number, table: RangeTable): number {
  if (w < TABLE_END) return interpolated(table.upper, w)
  const atEnd = interpolated(table.upper, TABLE_END * (1 - Number.EPSILON))
  return atEnd - (w * w - TABLE_END * TABLE_END) / 4 - Math.log(w / TABLE_END)
}

function tableFor(count: number): RangeTable {
  const known = tables.get(count)
  if (known) return known
  const cdf: Float64Array[] = []
  const upper: Float64Array[] = []
  for (let unit = 0; unit < TABLE_END; unit++) {
    const places = NODES.map(node => unit + (1 + node) / 2)
    const tails = Array.from(places, w => rangeOfNormals(w, count))
    cdf.push(places.map((w, i) => tails[i]!.cdf - (count - 1) * Math.log(w)))
    upper.push(places.map((_, i) => tails[i]!.upper))
  }
  const table = { cdf, upper }
  tables.set(count, table)
  return table
}

/** Barycentric interpolation in the unit that holds w (Berrut and Trefethen 2004, SIAM Review 46:501). */
function interpolated(units: readonly Float64Array[], w: number): number {
  const unit = Math.floor(w)
  const values = units[unit]!
  const x = 2 * (w - unit) - 1
  let over = 0
  let under = 0
  for (let i = 0; i < POINTS; i++) {
    const off = x - NODES[i]!
    if (off === 0) return values[i]!
    const term = NODE_WEIGHTS[i]! / off
    over += term * values[i]!
    under += term
  }
  return over / under
}

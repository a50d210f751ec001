import { normalPdf, normalUpperTail } from '../distributions/normal.ts'
import { mean, variance } from '../group/moments.ts'

/** Mean and scatter of a group in which some are only known to hold at least their value. */
export interface CensoredMean {
  readonly mean: number
  readonly sd: number
  readonly standardError: number
  /** Broken specimens less one. */
  readonly df: number
}

/** Fewest broken specimens that show a scatter. */
const LEAST_BROKEN = 3

/**
 * Maximum likelihood for normal strengths of which some are right-censored (each at a value of its own, as under competing
 * ways of failing): Cohen, Technometrics 1 (1959) 217; by expectation and maximisation (Dempster, Laird and Rubin, J. R.
 * Statist. Soc. B 39 (1977) 1). The variance has r − 1 of the r broken in place of r, and the standard error of the mean
 * comes from the observed information, so that without bounds both are the ordinary ones.
 * `null` with fewer than three broken specimens, or none that scatter.
 */
export function censoredMean(values: Float64Array, atLeast: readonly boolean[]): CensoredMean | null {
  const broken = values.filter((_, i) => !atLeast[i])
  const bounds = values.filter((_, i) => atLeast[i] === true)
  if (broken.length < LEAST_BROKEN || !(variance(broken) > 0)) return null
  const n = values.length
  let middle = mean(values)
  let spread = Math.sqrt(variance(values)) || Math.sqrt(variance(broken))
  for (let turn = 0; turn < 500; turn++) {
    let sum = 0
    let squares = 0
    for (const v of broken) {
      sum += v - middle
      squares += (v - middle) ** 2
    }
    for (const v of bounds) {
      // Mean and mean square of what lies beyond the bound: σ h and σ² (1 + z h).
      const z = (v - middle) / spread
      const h = hazard(z)
      sum += spread * h
      squares += spread ** 2 * (1 + z * h)
    }
    const move = sum / n
    const next = Math.sqrt(Math.max(0, squares / n - move ** 2))
    const settled = Math.abs(move) + Math.abs(next - spread) < 1e-11 * spread
    middle += move
    spread = next
    if (!(spread > 0)) return null
    if (settled) break
  }
  const r = broken.length
  return {
    mean: middle,
    sd: spread * Math.sqrt(r / (r - 1)),
    standardError: meanError(broken, bounds, middle, spread) * Math.sqrt(r / (r - 1)),
    df: r - 1,
  }
}

/** φ(z)/(1 − Φ(z)); far out its asymptote z. */
function hazard(z: number): number {
  const upper = normalUpperTail(z)
  return upper > 1e-290 ? normalPdf(z) / upper : z
}

/** √ of the mean's variance in the inverse of the observed information of (mean, sd). */
function meanError(broken: Float64Array, bounds: Float64Array, middle: number, spread: number): number {
  let mm = broken.length
  let ms = 0
  let ss = 0
  for (const v of broken) {
    const z = (v - middle) / spread
    ms += 2 * z
    ss += 3 * z * z - 1
  }
  for (const v of bounds) {
    const z = (v - middle) / spread
    const h = hazard(z)
    const slope = h * (h - z)
    mm += slope
    ms += h + z * slope
    ss += z * (2 * h + z * slope)
  }
  return spread * Math.sqrt(ss / (mm * ss - ms * ms))
}

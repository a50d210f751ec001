import { normalCdf, normalPdf, normalUpperTail } from './normal.ts'

/**
 * Step and ends of the trapezoidal rule over the largest value z. On integrands that fall off like a bell at both
 * ends this rule converges faster than any power of the step (Trefethen and Weideman 2014, SIAM Review 56:385).
 */
const STEP = 0.15
const FROM = -8.4
const TO = 11.1
const GRID = Array.from({ length: Math.round((TO - FROM) / STEP) + 1 }, (_, i) => {
  const z = FROM + i * STEP
  return { z, weight: STEP * normalPdf(z), below: normalCdf(z), above: normalUpperTail(z) }
})

/** Natural logarithms of P(range ≤ w) and P(range > w). */
export interface LogTails {
  readonly cdf: number
  readonly upper: number
}

/**
 * The range of `count` independent standard normal values, w > 0:
 * P(range ≤ w) = count ∫ φ(z) [Φ(z) − Φ(z − w)]^(count−1) dz. In the upper tail the same integral is taken off
 * count ∫ φ Φ^(count−1) = 1 term by term, so that a small tail keeps its digits (down to about 1e-16).
 */
export function rangeOfNormals(w: number, count: number): LogTails {
  let cdf = 0
  let upper = 0
  for (const { z, weight, below, above } of GRID) {
    const other = z - w
    const belowOther = normalCdf(other)
    // Above 0 the difference is taken between upper tails, which are the smaller numbers.
    const between = other > 0 ? normalUpperTail(other) - above : below - belowOther
    cdf += weight * between ** (count - 1)
    const outside = -Math.expm1((count - 1) * Math.log1p(-Math.min(1, belowOther / below)))
    upper += weight * below ** (count - 1) * outside
  }
  return { cdf: Math.log(count * cdf), upper: Math.log(count * upper) }
}

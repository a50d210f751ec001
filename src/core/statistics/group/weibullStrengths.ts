import { gammaCdf } from '../distributions/gamma.ts'
import { layHump } from '../distributions/hump.ts'
import { findRoot } from '../distributions/root.ts'
import { weibullQuantile } from '../distributions/weibull.ts'
import { likeliest, logPowerSum, logStrengths, type WeibullData } from './weibullFit.ts'

/** The strength that a share of specimens does not reach. */
export interface StrengthLimits {
  /** From the fit. */
  readonly estimate: number
  /** The value below which that strength lies with this confidence. */
  readonly limit: (confidence: number) => number
}

export interface WeibullStrengths {
  /** The strength that the share `p` of specimens does not reach. */
  readonly at: (p: number) => StrengthLimits
}

/**
 * Weibull strengths with confidence limits, exact for specimens that all broke or where testing stopped after a set number of
 * breaks, and close for other censoring: Lawless's conditional method (Lawless 1978, Technometrics 20:355), in which
 * the estimates' distribution is taken given the pattern of the residuals.
 *
 * With S(k) = Σ x^k and r broken, P(strength > q) is the mean of P(r, −ln(1 − p) S(k)/q^k), P the lower regularised
 * incomplete gamma function, over the weight k^(r−2) Π x^k/S(k)^r; that one integral is done numerically.
 * A lower bound that the share `content` exceeds with 95 % confidence is `at(1 − content).limit(0.05)`.
 * `null` where no fit can be had.
 */
export function weibullStrengths(data: WeibullData): WeibullStrengths | null {
  const logs = logStrengths(data)
  if (logs === null) return null
  const { broken, sumBroken } = logs
  const { shape, scale } = likeliest(logs)
  const centre = Math.log(scale)
  const logSum = (k: number): number => logPowerSum(logs, k) - k * centre
  const logWeight = (k: number): number =>
    (broken - 2) * Math.log(k) + k * (sumBroken - broken * centre) - broken * logSum(k)
  const atBest = logWeight(shape)
  const hump = layHump(k => logWeight(k) - atBest, shape)
  if (hump === null) return null
  const total = hump.weight.reduce((a, b) => a + b, 0)
  const points = Array.from(hump.x, (k, i) => ({ k, share: hump.weight[i]! / total, logSum: logSum(k) }))
  const counting = points.filter(({ share }) => share > 1e-14)

  const at = (p: number): StrengthLimits => {
    const logHazard = Math.log(-Math.log1p(-p))
    /** P(strength > q), from u = ln(q/scale). */
    const above = (u: number): number => {
      let sum = 0
      for (const { k, share, logSum } of counting) {
        sum += share * gammaCdf(Math.exp(logHazard + logSum - k * u), broken)
      }
      return sum
    }
    const limit = (confidence: number): number => {
      // On the scale of log odds the distribution is nearly straight, which the root finder likes.
      const wanted = Math.log(confidence / (1 - confidence))
      const off = (u: number): number => {
        const share = above(u)
        return Math.log((1 - share) / share) - wanted
      }
      let low = logHazard / shape
      let high = low
      for (let step = 0.5 / shape; off(low) > 0; step *= 2) low -= step
      for (let step = 0.5 / shape; off(high) < 0; step *= 2) high += step
      return scale * Math.exp(low === high ? low : findRoot(off, low, high))
    }
    return { estimate: weibullQuantile(p, shape, scale), limit }
  }
  return { at }
}

import { logGamma } from './gamma.ts'
import { layHump } from './hump.ts'

/**
 * The mean of `g(s)` over s = √(χ²/df), the ratio of an estimated to a true standard deviation; `logG` is ln g.
 * g must be log-concave, as probabilities of normal events are: the integrand then has one hump. `df` ≥ 1.
 */
export function chiMixture(logG: (s: number) => number, df: number): number {
  const logNorm = Math.LN2 + (df / 2) * Math.log(df / 2) - logGamma(df / 2)
  const log = (s: number): number =>
    logNorm + (df === 1 ? 0 : (df - 1) * Math.log(s)) - (df * s * s) / 2 + logG(s)
  const hump = layHump(log, 1)
  return hump === null ? 0 : Math.exp(hump.logScale) * hump.weight.reduce((a, b) => a + b, 0)
}

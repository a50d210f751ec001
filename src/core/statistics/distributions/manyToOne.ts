import { chiSquareQuantile } from './chiSquare.ts'
import { logGamma } from './gamma.ts'
import { normalPdf, normalUpperTail } from './normal.ts'
import { gaussLegendre } from './quadrature.ts'
import { findRoot } from './root.ts'
import { tQuantile, tTwoSided } from './t.ts'

/**
 * P(max |T_i| > t) for several t values of `df` degrees of freedom that each compare with one and the same control, and so
 * hang together: T_i and T_j with the correlation `loadings[i] · loadings[j]`, each loading in [0, 1). With groups of n_i
 * and a control of n_0 specimens of one scatter the loading is √(n_i/(n_0 + n_i)), √½ where all have the same number.
 *
 * Given the control's own chance z and the scatter s = √(χ²/df) that is found, the comparisons are independent: the mean over both of
 * 1 − Π P(|Z_i| ≤ t s | z). Dunnett, JASA 50 (1955) 1096; Biometrics 20 (1964) 482.
 */
export function manyToOneUpperTail(t: number, loadings: readonly number[], df: number): number {
  if (!(t > 0)) return 1
  if (loadings.length === 1) return tTwoSided(t, df)
  const beyond = beyondGivenControl(loadings)
  return Math.min(1, df === Infinity ? beyond(t) : overScatter(s => beyond(t * s), df))
}

/** t beyond which the greatest of them lies with the chance `alpha`, 0 < alpha < 1. */
export function manyToOneCritical(alpha: number, loadings: readonly number[], df: number): number {
  const low = tQuantile(1 - alpha / 2, df)
  if (loadings.length === 1) return low
  const high = tQuantile(1 - alpha / 2 / loadings.length, df)
  return findRoot(t => Math.log(manyToOneUpperTail(t, loadings, df) / alpha), low * 0.999, high * 1.001)
}

const RULE = gaussLegendre(40)
/** Chance at either end of the scatter that is left out. */
const NEGLIGIBLE = 1e-13

/** The mean of `g` over s = √(χ²/df), to about 1e-8 of 1. */
function overScatter(g: (s: number) => number, df: number): number {
  const logNorm = Math.LN2 + (df / 2) * Math.log(df / 2) - logGamma(df / 2)
  const density = (s: number): number => Math.exp(logNorm + (df - 1) * Math.log(s) - (df * s * s) / 2)
  const low = Math.sqrt(chiSquareQuantile(NEGLIGIBLE, df) / df)
  const high = Math.sqrt(chiSquareQuantile(1 - NEGLIGIBLE, df) / df)
  let sum = 0
  for (const [i, node] of RULE.nodes.entries()) {
    // With few degrees of freedom the density has a corner at 0, which u³ smooths.
    const u = (1 + node) / 2
    const [place, slope] = df < 6 ? [u ** 3, 3 * u * u] : [u, 1]
    const s = low + (high - low) * place
    sum += (RULE.weights[i]! / 2) * slope * density(s) * g(s)
  }
  return sum * (high - low)
}

/** Standard deviations of the control's chance that are summed over. */
const REACH = 8.5

/**
 * 1 − ∫ φ(z) Π [Φ((x + λ_i z)/q_i) − Φ((−x + λ_i z)/q_i)] dz with q_i = √(1 − λ_i²), by the trapezoidal rule, which gains
 * digits exponentially on a smooth hump; z and −z count alike. The tails themselves are summed, so that small chances keep their digits.
 */
function beyondGivenControl(loadings: readonly number[]): (x: number) => number {
  const parts = loadings.map(l => ({ l, q: Math.sqrt(1 - l * l) }))
  const step = 0.9 * Math.min(...parts.map(p => p.q))
  const most = Math.max(...loadings)
  return x => {
    const end = REACH + most * x
    let sum = 0
    for (let z = 0; z <= end; z += step) {
      let logInside = 0
      for (const { l, q } of parts)
        logInside += Math.log1p(
          -Math.min(1, normalUpperTail((x - l * z) / q) + normalUpperTail((x + l * z) / q)),
        )
      sum += (z === 0 ? 1 : 2) * normalPdf(z) * -Math.expm1(logInside)
    }
    return Math.min(1, sum * step)
  }
}

import { logGamma } from '../distributions/gamma.ts'
import { noncentralTCdf } from '../distributions/noncentralT.ts'
import { findRoot } from '../distributions/root.ts'
import { mean, seenVariance } from '../group/moments.ts'

export interface EffectSize {
  /** Difference of the means in units of the scatter, freed of its small-sample bias. */
  readonly hedgesG: number
  readonly ci95: readonly [number, number]
}

/**
 * Hedges's g (J. Educ. Statist. 6 (1981) 107): the difference over the pooled standard deviation, times the exact
 * J(ν) = Γ(ν/2) / (√(ν/2) Γ((ν − 1)/2)), ν = n₁ + n₂ − 2. Interval: that of the population's δ, exact for normal groups
 * of one scatter, by inverting the non-central t distribution (Steiger and Fouladi 1997).
 * `null` without scatter or with fewer than three values in all, or two and one where a group is empty.
 */
export function hedges(a: Float64Array, b: Float64Array): EffectSize | null {
  const df = a.length + b.length - 2
  if (a.length === 0 || b.length === 0 || df < 2) return null
  const squares = (v: Float64Array): number => (v.length < 2 ? 0 : seenVariance(v) * (v.length - 1))
  const pooledSd = Math.sqrt((squares(a) + squares(b)) / df)
  if (!(pooledSd > 0)) return null
  const d = (mean(a) - mean(b)) / pooledSd
  const scale = Math.sqrt((a.length * b.length) / (a.length + b.length))
  const unbias = Math.exp(logGamma(df / 2) - logGamma((df - 1) / 2)) / Math.sqrt(df / 2)
  return {
    hedgesG: unbias * d,
    ci95: [noncentrality(d * scale, df, 0.975) / scale, noncentrality(d * scale, df, 0.025) / scale],
  }
}

/** The non-centrality under which a t as small as this one has the chance `p`. */
function noncentrality(t: number, df: number, p: number): number {
  const off = (lambda: number): number => noncentralTCdf(t, df, lambda) - p
  let reach = 4 + Math.abs(t)
  while (off(t - reach) < 0 || off(t + reach) > 0) reach *= 2
  return findRoot(off, t - reach, t + reach)
}

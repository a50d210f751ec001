import { tQuantile, tTwoSided } from '../distributions/t.ts'
import { mean, seenVariance, variance } from '../group/moments.ts'

export interface WelchTest {
  /** Mean of the first less mean of the second. */
  readonly difference: number
  readonly standardError: number
  readonly ci95: readonly [number, number]
  readonly t: number
  readonly df: number
  /** Two-sided. */
  readonly p: number
}

/**
 * Difference of two means where the scatters need not be alike: Welch, Biometrika 34 (1947) 28, degrees of freedom
 * after Satterthwaite. Needs two values in each group and some scatter; else `null`.
 */
export function welch(a: Float64Array, b: Float64Array): WelchTest | null {
  if (a.length < 2 || b.length < 2) return null
  return fromVariances(mean(a) - mean(b), [variance(a), a.length], [variance(b), b.length])
}

function fromVariances(
  difference: number,
  [varianceA, nA]: readonly [number, number],
  [varianceB, nB]: readonly [number, number],
): WelchTest | null {
  const partA = varianceA / nA
  const partB = varianceB / nB
  const standardError = Math.sqrt(partA + partB)
  if (!(standardError > 0)) return null
  const df = (partA + partB) ** 2 / (partA ** 2 / (nA - 1) + partB ** 2 / (nB - 1))
  const half = tQuantile(0.975, df) * standardError
  const t = difference / standardError
  return {
    difference,
    standardError,
    ci95: [difference - half, difference + half],
    t,
    df,
    p: tTwoSided(t, df),
  }
}

/**
 * The same for deciding: a group in which no scatter shows is taken to scatter like the other. Values that are all
 * alike to the display's last digit are no proof of a scatter of nothing.
 */
export function welchAsLikeScatter(a: Float64Array, b: Float64Array): WelchTest | null {
  if (a.length < 2 || b.length < 2) return null
  const [own, other] = likeScatterVariances(a, b)
  if (own === 0 && other === 0) return null
  return fromVariances(mean(a) - mean(b), [own, a.length], [other, b.length])
}

/** Variances of the two means by which {@link welchAsLikeScatter} decides. */
export function likeScatterParts(a: Float64Array, b: Float64Array): readonly [number, number] {
  const [own, other] = likeScatterVariances(a, b)
  return [own / a.length, other / b.length]
}

function likeScatterVariances(a: Float64Array, b: Float64Array): readonly [number, number] {
  const [own, other] = [seenVariance(a), seenVariance(b)]
  return [own || other, other || own]
}

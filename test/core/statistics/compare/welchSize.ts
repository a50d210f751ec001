import { betaQuantile } from '../../../../src/core/statistics/distributions/beta.ts'
import { tQuantile, tUpperTail } from '../../../../src/core/statistics/distributions/t.ts'

/** Strata of equal chance over how the scatter divides between the two groups. */
const STRATA = 64

/**
 * How often Welch's test at `level` calls two equal means different: n values of each, normal, one sd `ratio` times the other. Of the two χ² the share
 * of the first is Beta(ν/2, ν/2) and independent of their sum, so that given the share the test is one of Student's t on 2ν degrees of freedom
 * against a limit of its own; the mean over the share is exact but for the strata. `n` need not be whole: specimens of each on average.
 */
export function welchSize(level: number, n: number, ratio = 1): number {
  const df = n - 1
  const [first, second] = [ratio ** 2 / n, 1 / n]
  let sum = 0
  for (let i = 0; i < STRATA; i++) {
    const share = betaQuantile((i + 0.5) / STRATA, df / 2, df / 2)
    const [partA, partB] = [(first * share) / df, (second * (1 - share)) / df]
    const own = (partA + partB) ** 2 / (partA ** 2 / df + partB ** 2 / df)
    const limit = tQuantile(1 - level / 2, own)
    sum += 2 * tUpperTail(limit * Math.sqrt((2 * df * (partA + partB)) / (first + second)), 2 * df)
  }
  return sum / STRATA
}

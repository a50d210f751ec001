import type { PairTests } from './comparePair.ts'

interface AgainstControl {
  readonly tests: PairTests
  /** Whether the control is the first of the pair. */
  readonly controlFirst: boolean
}

/** Beyond this the control makes nearly all of the doubt; a smaller loading only widens the intervals. */
const MOST = 0.98

/**
 * How much each comparison with one control hangs on the control's own chance: √(v₀/(v₀ + v_i)) with v the variances of the two
 * means, so that two comparisons have the correlation that their scatters and numbers give them. Within blocks, or at one covariate, the correlations
 * come from the layout; the smallest that a comparison has with another is taken, which is exact where all groups fill all blocks
 * and else errs to the wide side. 0 where ranks decide.
 */
export function loadingsAgainst(pairs: readonly AgainstControl[]): number[] {
  const directions = pairs.map(({ tests: { decision }, controlFirst }) =>
    decision?.by === 'blocks' || decision?.by === 'covariate'
      ? decision.direction.map(z => (controlFirst ? -z : z))
      : null,
  )
  return pairs.map(({ tests: { decision }, controlFirst }, i) => {
    if (decision === null || decision.by === 'ranks') return 0
    if ('direction' in decision) {
      const others = directions.flatMap((other, j) => (other === null || j === i ? [] : [other]))
      const least = Math.min(...others.map(other => correlation(directions[i]!, other)))
      return Number.isFinite(least) ? Math.sqrt(Math.min(MOST, Math.max(0, least))) : 0
    }
    const [a, b] = decision.parts
    return Math.sqrt(Math.min(MOST, (controlFirst ? a : b) / (a + b)))
  })
}

function correlation(x: readonly number[], y: readonly number[]): number {
  const product = x.reduce((sum, v, i) => sum + v * y[i]!, 0)
  return product / Math.hypot(...x) / Math.hypot(...y)
}

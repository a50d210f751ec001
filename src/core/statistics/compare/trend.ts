import { tQuantile, tTwoSided } from '../distributions/t.ts'
import { mean } from '../group/moments.ts'

export interface Trend {
  /** Change of the value from one pull to the next, the groups' own means taken out. */
  readonly slope: number
  readonly ci95: readonly [number, number]
  readonly t: number
  readonly df: number
  readonly p: number
}

/**
 * Do the values drift with the order of the pulls (the rig, the weather, the operator's hand)? One slope common to all
 * groups, least squares with a mean of its own for each: the covariance model of Snedecor and Cochran, chapter 18.
 * `null` where there are too few values (at least two more than there are groups), or where the order says
 * nothing because each group has one place only.
 */
export function trendWithOrder(
  groups: readonly { readonly values: Float64Array; readonly order: Float64Array }[],
): Trend | null {
  let sxx = 0
  let sxy = 0
  let syy = 0
  let n = 0
  const used = groups.filter(g => g.values.length > 0)
  for (const { values, order } of used) {
    const middleX = mean(order)
    const middleY = mean(values)
    for (let i = 0; i < values.length; i++) {
      const x = order[i]! - middleX
      const y = values[i]! - middleY
      sxx += x * x
      sxy += x * y
      syy += y * y
    }
    n += values.length
  }
  const df = n - used.length - 1
  if (df < 1 || !(sxx > 0)) return null
  const slope = sxy / sxx
  const error = Math.sqrt(Math.max(0, syy - slope * sxy) / df / sxx)
  if (!(error > 0)) return null
  const half = tQuantile(0.975, df) * error
  return { slope, ci95: [slope - half, slope + half], t: slope / error, df, p: tTwoSided(slope / error, df) }
}

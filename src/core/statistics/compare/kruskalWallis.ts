import { chiSquareUpperTail } from '../distributions/chiSquare.ts'
import { boundedRanks, pool } from './scores.ts'

export interface KruskalWallis {
  readonly h: number
  readonly df: number
  readonly p: number
}

/**
 * Do the groups lie apart, by ranks? Kruskal and Wallis, JASA 47 (1952) 583, corrected for ties; with specimens
 * known only to hold *at least* so much, on Gehan's ranks (Breslow, Biometrika 57 (1970) 579, with the permutation
 * variance). p from chi-square: rough where groups are smaller than 5. `null` with fewer than two groups with a
 * value, or with all values alike.
 */
export function kruskalWallis(
  groups: readonly Float64Array[],
  atLeast: readonly (readonly boolean[])[] = [],
): KruskalWallis | null {
  const used = groups
    .map((values, i) => ({ values, atLeast: atLeast[i] ?? [] }))
    .filter(g => g.values.length > 0)
  if (used.length < 2) return null
  const pooled = pool(used)
  const ranks = boundedRanks(pooled.values, pooled.atLeast)
  const n = ranks.length
  const middle = (n + 1) / 2
  const squares = ranks.reduce((sum, r) => sum + (r - middle) ** 2, 0)
  if (squares === 0) return null
  let between = 0
  let from = 0
  for (const { values } of used) {
    const own = ranks.subarray(from, from + values.length).reduce((sum, r) => sum + r - middle, 0)
    between += own ** 2 / values.length
    from += values.length
  }
  const h = ((n - 1) * between) / squares
  const df = used.length - 1
  return { h, df, p: chiSquareUpperTail(h, df) }
}

import { midranks } from '../distributions/rankSums.ts'

/**
 * Ranks of pooled values of which some are only known to be *at least* so much: (N + 1)/2 plus half of how many a
 * value surely exceeds less how many surely exceed it. Without bounds these are the ordinary mid-ranks.
 * Gehan, Biometrika 52 (1965) 203, section 2.
 */
export function boundedRanks(values: Float64Array, atLeast: readonly boolean[]): Float64Array {
  if (!atLeast.includes(true)) return midranks(values)
  const ranks = new Float64Array(values.length).fill((values.length + 1) / 2)
  for (let i = 0; i < values.length; i++) {
    for (let j = 0; j < i; j++) {
      const order = pairOrder(values[i]!, atLeast[i] ?? false, values[j]!, atLeast[j] ?? false)
      ranks[i] = ranks[i]! + order / 2
      ranks[j] = ranks[j]! - order / 2
    }
  }
  return ranks
}

/** +1 where the first is surely the greater, −1 where the second is, 0 where they are equal or it cannot be told. */
export function pairOrder(x: number, xAtLeast: boolean, y: number, yAtLeast: boolean): -1 | 0 | 1 {
  if (xAtLeast && yAtLeast) return 0
  if (xAtLeast) return x >= y ? 1 : 0
  if (yAtLeast) return y >= x ? -1 : 0
  return x > y ? 1 : x < y ? -1 : 0
}

/** Pooled values and bounds of several groups, in order. */
export function pool(
  groups: readonly { readonly values: Float64Array; readonly atLeast: readonly boolean[] }[],
): { values: Float64Array; atLeast: boolean[] } {
  return {
    values: Float64Array.from(groups.flatMap(g => Array.from(g.values))),
    atLeast: groups.flatMap(g => Array.from(g.values, (_, i) => g.atLeast[i] ?? false)),
  }
}

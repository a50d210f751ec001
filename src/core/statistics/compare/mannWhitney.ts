import { logGamma } from '../distributions/gamma.ts'
import { normalUpperTail } from '../distributions/normal.ts'
import { rankSumTails } from '../distributions/rankSums.ts'
import { boundedRanks, pool } from './scores.ts'

export interface MannWhitney {
  /** Pairs in which the first group's specimen exceeds the second's; a tie, or what cannot be told, counts half. */
  readonly u: number
  /** Two-sided. */
  readonly p: number
  readonly method: 'exact' | 'normal'
  /** The smallest p that such groups could give, whatever their order: with 3 against 3 it is 0.1. */
  readonly smallestP: number
}

/** Steps of counting that take some milliseconds: up to about 25 against 25. */
const EXACT_STEPS = 3e6
/** Up to here the smallest p is counted too; beyond it is too small to matter and taken as that without ties. */
const SMALLEST_STEPS = 1e5

/**
 * Rank-sum test of Mann and Whitney, Ann. Math. Stat. 18 (1947) 50; with specimens known only to hold *at least* so
 * much, Gehan's form of it (Biometrika 52 (1965) 203). `null` where a group is empty.
 *
 * Exact by counting all arrangements of the ranks, ties included, where that is cheap; else normal with the variance
 * of the tied ranks and a continuity correction of ½. Two-sided means: as far from the middle or further.
 */
export function mannWhitney(
  a: Float64Array,
  b: Float64Array,
  atLeastA: readonly boolean[] = [],
  atLeastB: readonly boolean[] = [],
): MannWhitney | null {
  const nA = a.length
  if (nA === 0 || b.length === 0) return null
  const { values, atLeast } = pool([
    { values: a, atLeast: atLeastA },
    { values: b, atLeast: atLeastB },
  ])
  const ranks = boundedRanks(values, atLeast)
  const n = ranks.length
  const sumOfA = total(ranks.subarray(0, nA))
  const u = sumOfA - (nA * (nA + 1)) / 2
  // The ranks of one group fix those of the other: the smaller is counted.
  const size = Math.min(nA, n - nA)
  const own = size === nA ? sumOfA : total(ranks) - sumOfA
  const rising = ranks.slice().sort()
  const steps = n * size * 2 * total(rising.subarray(n - size))
  const smallestP =
    steps > SMALLEST_STEPS
      ? 2 / waysToChoose(n, size)
      : Math.min(
          bothTails(ranks, size, total(rising.subarray(0, size))),
          bothTails(ranks, size, total(rising.subarray(n - size))),
        )
  return steps > EXACT_STEPS
    ? { u, p: normalTails(ranks, size, own), method: 'normal', smallestP }
    : { u, p: bothTails(ranks, size, own), method: 'exact', smallestP }
}

const waysToChoose = (n: number, k: number): number =>
  Math.exp(logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1))

const total = (values: Float64Array): number => values.reduce((sum, v) => sum + v, 0)

/** Chance of a rank sum as far from its mean, size (N + 1)/2, as `sum` or further, either way. */
function bothTails(ranks: Float64Array, size: number, sum: number): number {
  const mirrored = size * (ranks.length + 1) - sum
  if (mirrored === sum) return 1
  const { lower } = rankSumTails(ranks, size, Math.min(sum, mirrored))
  const { upper } = rankSumTails(ranks, size, Math.max(sum, mirrored))
  return Math.min(1, lower + upper)
}

function normalTails(ranks: Float64Array, size: number, sum: number): number {
  const n = ranks.length
  const middle = (n + 1) / 2
  const squares = ranks.reduce((all, r) => all + (r - middle) ** 2, 0)
  const sd = Math.sqrt(((size * (n - size)) / (n * (n - 1))) * squares)
  if (sd === 0) return 1
  return Math.min(1, 2 * normalUpperTail(Math.max(0, Math.abs(sum - size * middle) - 0.5) / sd))
}

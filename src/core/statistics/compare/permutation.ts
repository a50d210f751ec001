import { seededRandom } from '../random.ts'

export interface Permutation {
  /** Two-sided. */
  readonly p: number
  /** Arrangements looked at: all that there are, or so many at random. */
  readonly arrangements: number
  readonly method: 'exact' | 'random'
  readonly seed: number | null
}

/** As many arrangements as are looked at one by one, and as many as are drawn where there are more. */
const EXACT_ARRANGEMENTS = 20_000
const RANDOM_ARRANGEMENTS = 9_999

/**
 * Permutation test of the difference between two means: the share of all ways to deal the pooled values into groups
 * of these sizes that part the means at least so far. `null` where a group is empty.
 *
 * All arrangements where there are at most 20,000; else 9,999 at random, and then p = (b + 1)/(m + 1), which is
 * never 0 (Phipson and Smyth, Stat. Appl. Genet. Mol. Biol. 9 (2010) 39).
 */
export function permutationTest(a: Float64Array, b: Float64Array, seed = 1): Permutation | null {
  if (a.length === 0 || b.length === 0) return null
  const pooled = Float64Array.from([...a, ...b])
  const mean = pooled.reduce((sum, v) => sum + v, 0) / pooled.length
  // The sum over one group alone tells the difference; deviations keep small differences on large values.
  const deviations = pooled.map(v => v - mean)
  const size = Math.min(a.length, b.length)
  const own = a.length <= b.length ? deviations.subarray(0, size) : deviations.subarray(a.length)
  const seen = Math.abs(own.reduce((sum, v) => sum + v, 0))
  const scale = deviations.reduce((sum, v) => sum + Math.abs(v), 0)
  const limit = seen - 1e-12 * scale
  const all = arrangements(pooled.length, size)
  if (all <= EXACT_ARRANGEMENTS) {
    return {
      p: everyArrangement(deviations, size, limit) / all,
      arrangements: all,
      method: 'exact',
      seed: null,
    }
  }
  const found = randomArrangements(deviations, size, limit, seed)
  return {
    p: (found + 1) / (RANDOM_ARRANGEMENTS + 1),
    arrangements: RANDOM_ARRANGEMENTS,
    method: 'random',
    seed,
  }
}

/** Ways to choose k of n; stops counting beyond what is looked at one by one. */
function arrangements(n: number, k: number): number {
  let ways = 1
  for (let i = 1; i <= k; i++) {
    ways = Math.round((ways * (n - k + i)) / i)
    if (ways > EXACT_ARRANGEMENTS) return Number.POSITIVE_INFINITY
  }
  return ways
}

function everyArrangement(values: Float64Array, size: number, limit: number): number {
  let found = 0
  const deal = (from: number, left: number, sum: number): void => {
    if (left === 0) {
      if (Math.abs(sum) >= limit) found++
      return
    }
    for (let i = from; i <= values.length - left; i++) deal(i + 1, left - 1, sum + values[i]!)
  }
  deal(0, size, 0)
  return found
}

function randomArrangements(values: Float64Array, size: number, limit: number, seed: number): number {
  const random = seededRandom(seed)
  const deck = values.slice()
  let found = 0
  for (let run = 0; run < RANDOM_ARRANGEMENTS; run++) {
    let sum = 0
    for (let i = 0; i < size; i++) {
      const j = i + random.below(deck.length - i)
      const taken = deck[j]!
      deck[j] = deck[i]!
      deck[i] = taken
      sum += taken
    }
    if (Math.abs(sum) >= limit) found++
  }
  return found
}

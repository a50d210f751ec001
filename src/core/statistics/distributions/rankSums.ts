/** Ranks from 1; equal values share the mean of the ranks that they take. */
export function midranks(values: ArrayLike<number>): Float64Array {
  const order = Array.from(values, (_, i) => i).sort((a, b) => values[a]! - values[b]!)
  const ranks = new Float64Array(values.length)
  for (let from = 0; from < order.length; ) {
    let to = from + 1
    while (to < order.length && values[order[to]!] === values[order[from]!]) to++
    for (let i = from; i < to; i++) ranks[order[i]!] = (from + to + 1) / 2
    from = to
  }
  return ranks
}

/** Both tails of an exact discrete distribution at the value seen; the value itself counts in both. */
export interface Tails {
  /** P(S ≤ s). */
  readonly lower: number
  /** P(S ≥ s). */
  readonly upper: number
}

/**
 * Exact distribution of the sum of `size` of the `ranks` when every choice is equally likely: Wilcoxon's rank sum,
 * and Mann and Whitney's U = sum − size(size + 1)/2. Midranks of ties are allowed: the distribution is then
 * conditional on the ties (Hájek, Šidák and Sen 1999, section 3.8).
 * Counts by adding one rank at a time; work grows as ranks × size × sum.
 */
export function rankSumTails(ranks: ArrayLike<number>, size: number, sum: number): Tails {
  const { doubled, total } = doubledRanks(ranks)
  // counts[k][s]: choices of k ranks with doubled sum s.
  const counts = Array.from({ length: size + 1 }, () => new Float64Array(total + 1))
  counts[0]![0] = 1
  for (const rank of doubled) {
    for (let k = size; k >= 1; k--) {
      const fewer = counts[k - 1]!
      const row = counts[k]!
      for (let s = total; s >= rank; s--) row[s]! += fewer[s - rank]!
    }
  }
  return tailsOf(counts[size]!, Math.round(2 * sum))
}

/**
 * Exact distribution of Wilcoxon's signed-rank sum: each of the `ranks` of |difference| counts or not, with equal chance.
 */
export function signedRankTails(ranks: ArrayLike<number>, sum: number): Tails {
  const { doubled, total } = doubledRanks(ranks)
  const counts = new Float64Array(total + 1)
  counts[0] = 1
  for (const rank of doubled) {
    for (let s = total; s >= rank; s--) counts[s]! += counts[s - rank]!
  }
  return tailsOf(counts, Math.round(2 * sum))
}

/** Midranks are whole or half: doubled, they can index a table. */
function doubledRanks(ranks: ArrayLike<number>): { doubled: number[]; total: number } {
  const doubled = Array.from(ranks, rank => Math.round(2 * rank))
  return { doubled, total: doubled.reduce((a, b) => a + b, 0) }
}

function tailsOf(counts: Float64Array, at: number): Tails {
  let lower = 0
  let upper = 0
  let all = 0
  counts.forEach((count, s) => {
    all += count
    if (s <= at) lower += count
    if (s >= at) upper += count
  })
  return { lower: lower / all, upper: upper / all }
}

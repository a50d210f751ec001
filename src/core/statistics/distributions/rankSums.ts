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
  // Midranks are whole or half: doubled, they can index a table.
  const doubled = Array.from(ranks, rank => Math.round(2 * rank))
  const total = doubled.reduce((a, b) => a + b, 0)
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
  const ways = counts[size]!
  const at = Math.round(2 * sum)
  const share = (from: number, to: number): number => ways.subarray(from, to).reduce((a, b) => a + b, 0)
  const all = share(0, total + 1)
  return { lower: share(0, at + 1) / all, upper: share(at, total + 1) / all }
}

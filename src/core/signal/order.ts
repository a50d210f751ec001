/** Order statistics on small samples of a long series. */

/** At most `most` values, evenly spread over the series; a copy. */
export function spread(values: ArrayLike<number>, most: number): Float64Array {
  const n = values.length
  if (n <= most) return Float64Array.from(values)
  const out = new Float64Array(most)
  for (let i = 0; i < most; i++) out[i] = values[Math.floor((i * n) / most)]!
  return out
}

/** Quantile of sorted values by linear interpolation (Hyndman and Fan 1996, type 7); `null` of none. */
export function quantileSorted(sorted: ArrayLike<number>, share: number): number | null {
  if (sorted.length === 0) return null
  const at = (sorted.length - 1) * share
  const below = Math.floor(at)
  const low = sorted[below]!
  return low + (at - below) * ((sorted[below + 1] ?? low) - low)
}

/** Median; `null` of none. */
export function median(values: ArrayLike<number>): number | null {
  return quantileSorted(Float64Array.from(values).sort(), 0.5)
}

/**
 * Median distance from the median, scaled to the standard deviation of a normal distribution;
 * `null` of none. Sorted, the distances rise on both sides of the median, so the two sides are merged up to the middle one.
 */
export function robustSd(values: ArrayLike<number>): number | null {
  const sorted = Float64Array.from(values).sort()
  const n = sorted.length
  const middle = quantileSorted(sorted, 0.5)
  if (middle === null) return null
  const below = Math.floor((n - 1) / 2)
  const above = Math.ceil((n - 1) / 2)
  let left = above
  while (left > 0 && sorted[left]! > middle) left--
  let right = left + 1
  let low = 0
  let high = 0
  for (let rank = 0; rank <= above; rank++) {
    const toLeft = left >= 0 ? middle - sorted[left]! : Number.POSITIVE_INFINITY
    const toRight = right < n ? sorted[right]! - middle : Number.POSITIVE_INFINITY
    const distance = Math.min(toLeft, toRight)
    if (toLeft <= toRight) left--
    else right++
    if (rank === below) low = distance
    high = distance
  }
  return 1.4826 * (low + (high - low) / 2)
}

/**
 * The value of place `rank` (0 is the least) among the first `count` of `values`, if they were in order; they change
 * theirs. By partition, which costs a few passes instead of sorting (quickselect, Hoare 1961, Communications of the
 * ACM 4: 321).
 */
export function nthLeast(values: Float64Array, count: number, rank: number): number {
  let from = 0
  let to = count - 1
  while (from < to) {
    const pivot = values[(from + to) >> 1]!
    let i = from
    let j = to
    while (i <= j) {
      while (values[i]! < pivot) i++
      while (values[j]! > pivot) j--
      if (i > j) break
      const value = values[i]!
      values[i++] = values[j]!
      values[j--] = value
    }
    if (rank <= j) to = j
    else if (rank >= i) from = i
    else return values[rank]!
  }
  return values[rank]!
}

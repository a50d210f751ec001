/**
 * The least value up to which lies at least this share of the weight, for each of `shares` (0 to 1): of the first
 * `count` of `values`, one at least, with their `weights`, none below 0. Both change their order, alike. By partition
 * (quickselect, Hoare 1961, Communications of the ACM 4: 321), which needs no order of all the values.
 */
export function weightedQuantiles(
  values: Float64Array,
  weights: Float64Array,
  count: number,
  shares: readonly number[],
): number[] {
  let total = 0
  for (let i = 0; i < count; i++) total += weights[i]!
  return shares.map(share => valueAt(values, weights, count, share * total))
}

/** The least value up to which the weight reaches `target`. */
function valueAt(values: Float64Array, weights: Float64Array, count: number, target: number): number {
  let from = 0
  let last = count - 1
  /** Weight of what lies below `from`. */
  let below = 0
  while (from < last) {
    const pivot = values[(from + last) >> 1]!
    let less = from
    let greater = last
    let lessWeight = 0
    let sameWeight = 0
    for (let i = from; i <= greater; ) {
      const value = values[i]!
      const weight = weights[i]!
      if (value > pivot) {
        values[i] = values[greater]!
        weights[i] = weights[greater]!
        values[greater] = value
        weights[greater] = weight
        greater--
        continue
      }
      if (value < pivot) {
        values[i] = values[less]!
        weights[i] = weights[less]!
        values[less] = value
        weights[less] = weight
        less++
        lessWeight += weight
      } else sameWeight += weight
      i++
    }
    if (less > from && below + lessWeight >= target) last = less - 1
    else if (greater === last || below + lessWeight + sameWeight >= target) return pivot
    else {
      below += lessWeight + sameWeight
      from = greater + 1
    }
  }
  return values[from]!
}

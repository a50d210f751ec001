/**
 * The least value up to which lies at least this share of the weight, for each of `shares` (0 to 1); `values` and
 * `weights` are as long as each other, with one value at least and no weight below 0. By partition (quickselect, Hoare
 * 1961, Communications of the ACM 4: 321), which needs no order of all the values.
 */
export function weightedQuantiles(
  values: Float64Array,
  weights: Float64Array,
  shares: readonly number[],
): number[] {
  const own = { values: values.slice(), weights: weights.slice() }
  let total = 0
  for (let i = 0; i < weights.length; i++) total += weights[i]!
  return shares.map(share => valueAt(own, share * total))
}

interface Weighted {
  readonly values: Float64Array
  readonly weights: Float64Array
}

/** The least value up to which the weight reaches `target`; changes the order of the pairs. */
function valueAt({ values, weights }: Weighted, target: number): number {
  let from = 0
  let last = values.length - 1
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

/** First index whose value (a time, or any other that never falls) is `at` or more; the length where there is none. */
export function firstAtOrAfter(rising: Float64Array, at: number): number {
  let low = 0
  let high = rising.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (rising[middle]! < at) low = middle + 1
    else high = middle
  }
  return low
}

/** First index whose value (a time, or any other that never falls) is above `at`; the length where there is none. */
export function firstAfter(rising: Float64Array, at: number): number {
  let low = 0
  let high = rising.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (rising[middle]! <= at) low = middle + 1
    else high = middle
  }
  return low
}

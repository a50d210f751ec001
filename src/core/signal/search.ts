/** First index whose time is `atS` or later; the length where there is none. Times must not fall. */
export function firstAtOrAfter(timeS: Float64Array, atS: number): number {
  let low = 0
  let high = timeS.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (timeS[middle]! < atS) low = middle + 1
    else high = middle
  }
  return low
}

/** First index whose time is later than `atS`; the length where there is none. Times must not fall. */
export function firstAfter(timeS: Float64Array, atS: number): number {
  let low = 0
  let high = timeS.length
  while (low < high) {
    const middle = (low + high) >>> 1
    if (timeS[middle]! <= atS) low = middle + 1
    else high = middle
  }
  return low
}

/** Steps between readings that are looked at, at most; of few readings a sixth of their number. */
const MOST_LAGS = 24
const LAGS_SHARE = 1 / 6
const LEAST_LAGS = 10
/** The wildest changes are left out: a knock in a rest is no noise. */
const KEPT_SHARE = 0.98
/** The correlation at n is −½; by chance, of sixty readings, none comes as low as this. */
const LOW = -0.35
/** And it stands so many times below what the others scatter by. */
const CLEAR = 3
/** Where more of the readings are the one before once more, the display is too coarse, or each was sent several times. */
const MOST_STILL = 0.7

/**
 * Over how many readings a device takes its running mean, by the noise of a record's own rests. From one reading to the
 * next such a mean changes by what comes in less what goes out, which came in n readings before: its changes correlate by
 * −½ at a distance of n readings, and by 0 at all others (moving average of white noise). 1 where neighbouring changes
 * do, as those of single readings. `null` where there are too few readings, or the changes follow no such course, as
 * with a hum or a swaying weight.
 */
export function settlingOfRests(
  forceN: Float64Array,
  rests: readonly { readonly from: number; readonly to: number }[],
): number | null {
  const changes = rests.map(({ from, to }) =>
    Float64Array.from(
      { length: Math.max(0, to - from - 1) },
      (_, i) => forceN[from + i + 1]! - forceN[from + i]!,
    ),
  )
  const sizes = changes.flatMap(part => Array.from(part, Math.abs)).sort((a, b) => a - b)
  const lags = Math.min(MOST_LAGS, Math.floor(sizes.length * LAGS_SHARE))
  if (lags < LEAST_LAGS || !(sizes[Math.floor(MOST_STILL * sizes.length)]! > 0)) return null
  const most = sizes[Math.floor(KEPT_SHARE * (sizes.length - 1))]!
  const correlations = Array.from({ length: lags }, (_, k) => correlation(changes, k + 1, most))
  const lowest = Math.min(...correlations)
  const beside = correlations.filter(c => c !== lowest)
  const scatter = Math.sqrt(beside.reduce((sum, c) => sum + c * c, 0) / beside.length)
  return lowest < LOW && lowest < -CLEAR * scatter ? correlations.indexOf(lowest) + 1 : null
}

/** Correlation of changes so many apart, those beyond `most` left out. */
function correlation(changes: readonly Float64Array[], lag: number, most: number): number {
  let both = 0
  let first = 0
  let second = 0
  for (const part of changes)
    for (let i = 0; i + lag < part.length; i++) {
      const [a, b] = [part[i]!, part[i + lag]!]
      if (Math.abs(a) > most || Math.abs(b) > most) continue
      both += a * b
      first += a * a
      second += b * b
    }
  return first > 0 && second > 0 ? both / Math.sqrt(first * second) : 0
}

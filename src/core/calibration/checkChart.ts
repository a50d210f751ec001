import { normalQuantile } from '../statistics/distributions/normal.ts'
import { tQuantile, tUpperTail } from '../statistics/distributions/t.ts'
import { mean, standardDeviation } from '../statistics/group/moments.ts'

/** A chart of single values against limits from those before, and how they drift. */
export interface CheckChart {
  readonly values: readonly number[]
  readonly centre: number
  /** Between these the newest lies 399 times in 400, if the rig is as before. */
  readonly low: number
  readonly high: number
  /** How many earlier values the limits come from. */
  readonly from: number
  /** Day-to-day standard deviation of these. */
  readonly sd: number
  /** Weighted mean of the latest standardised values over its limit: beyond ± 1 they drift. */
  readonly drift: number
}

/** Fewest earlier checks that tell how a rig scatters from day to day. */
export const LEAST_DAYS = 3

/** Chance of a false alarm by a single value, and by the drift: one check in 200 together. */
export const ALARM = 1 / 400

/** Weight of the newest value in the drift: a fifth finds a slow change that no single value shows (Roberts, Technometrics 1 (1959) 239). */
const WEIGHT = 0.2

/**
 * Self-starting chart: every value is held against the mean and the scatter of the `sound` ones before it by the t
 * distribution of a next value, (x − m)/(s √(1 + 1/n)), so that the rate of false alarms is the stated one from the fourth
 * value on, however few the days, and turned into a standard normal value (Quesenberry, J. Qual. Technol. 23 (1991) 213;
 * Hawkins, The Statistician 36 (1987) 299). Drift: the exponentially weighted mean of these against its own limit.
 * `floor`: the smallest sd that the values can honestly have. `null` with fewer than {@link LEAST_DAYS} before.
 */
export function checkChart(
  earlier: readonly { readonly value: number; readonly sound: boolean }[],
  newest: number,
  floor: number,
): CheckChart | null {
  const base: number[] = []
  let weighted = 0
  let steps = 0
  const take = (value: number): void => {
    if (base.length < LEAST_DAYS) return
    weighted += WEIGHT * (standardised(value, base, floor) - weighted)
    steps++
  }
  for (const { value, sound } of earlier) {
    if (!sound) continue
    take(value)
    base.push(value)
  }
  if (base.length < LEAST_DAYS) return null
  take(newest)
  const centre = mean(base)
  const sd = Math.max(floor, standardDeviation(base))
  const half = tQuantile(1 - ALARM / 2, base.length - 1) * sd * Math.sqrt(1 + 1 / base.length)
  const driftSd = Math.sqrt((WEIGHT / (2 - WEIGHT)) * (1 - (1 - WEIGHT) ** (2 * steps)))
  return {
    values: [...earlier.map(({ value }) => value), newest],
    centre,
    low: centre - half,
    high: centre + half,
    from: base.length,
    sd,
    drift: weighted / (driftSd * normalQuantile(1 - ALARM / 2)),
  }
}

/** The normal value that is as unlikely as this next one is by t. */
function standardised(value: number, base: readonly number[], floor: number): number {
  const n = base.length
  const sd = Math.max(floor, standardDeviation(base))
  const off = value - mean(base)
  if (off === 0 || sd === 0) return off === 0 ? 0 : Math.sign(off) * MOST
  const t = Math.abs(off) / (sd * Math.sqrt(1 + 1 / n))
  return Math.sign(off) * Math.min(MOST, -normalQuantile(tUpperTail(t, n - 1)))
}

/** One value, however wild, does not decide what the next twenty say of a drift. */
const MOST = 4

import { mean } from '../group/moments.ts'
import { CHANGE_LIMITS } from './changeLimits.ts'

/** A place from which on a series lies at another level. */
export interface Change {
  /** First value of the new level. */
  readonly at: number
  /** The value with which it was told: what came before alone did not show it. */
  readonly toldAt: number
}

/** Fewest values that can show a change. */
export const LEAST_VALUES = CHANGE_LIMITS[0]![0]

/**
 * Where a series of single values changed its level, by the change-point model with unknown mean and scatter (Hawkins, Qiu and Kang,
 * J. Qual. Technol. 35 (2003) 355): with every new value the series is split where the two sides differ most by Student's t, and a change is
 * told where that passes a limit which a healthy series, not told of before, passes on one value in 400. After a change the series begins
 * anew from there. `floor`: the smallest sd that the values can honestly have. Values are taken as independent and normal.
 */
export function changesIn(values: readonly number[], floor = 0): Change[] {
  const changes: Change[] = []
  let from = 0
  for (let end = LEAST_VALUES; end <= values.length; end++) {
    if (end - from < LEAST_VALUES) continue
    const { t, at } = greatestSplit(values.slice(from, end), floor)
    if (t <= limitFor(end - from)) continue
    changes.push({ at: from + at, toldAt: end - 1 })
    from += at
  }
  return changes
}

/** The split of a series whose sides differ most, and by how much: Student's t of the two means on n − 2 degrees of freedom. */
export function greatestSplit(
  values: ArrayLike<number>,
  floor = 0,
): { readonly t: number; readonly at: number } {
  const n = values.length
  const middle = mean(values)
  let squares = 0
  for (let i = 0; i < n; i++) squares += (values[i]! - middle) ** 2
  let left = 0
  let most = -1
  let place = 1
  for (let at = 1; at < n; at++) {
    left += values[at - 1]! - middle
    // Square of the difference of the two means over 1/at + 1/(n − at).
    const between = (left * left * n) / (at * (n - at))
    if (between > most) {
      most = between
      place = at
    }
  }
  if (!(most > 1e-18 * middle ** 2)) return { t: 0, at: place }
  // What rounding leaves of a scatter of nothing is none.
  const rest = squares - most > 1e-12 * squares ? squares - most : 0
  const within = Math.max(rest, (n - 2) * floor ** 2)
  return { t: within > 0 ? Math.sqrt((most * (n - 2)) / within) : Number.POSITIVE_INFINITY, at: place }
}

/** The limit for so many values, between the simulated ones evenly over 1/n; beyond the last as there. */
export function limitFor(n: number): number {
  const after = CHANGE_LIMITS.findIndex(([count]) => count >= n)
  if (after < 0) return CHANGE_LIMITS.at(-1)![1]
  const [count, limit] = CHANGE_LIMITS[after]!
  if (count === n || after === 0) return limit
  const [before, higher] = CHANGE_LIMITS[after - 1]!
  const share = (1 / before - 1 / n) / (1 / before - 1 / count)
  return higher + share * (limit - higher)
}

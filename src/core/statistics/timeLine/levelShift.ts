import { tQuantile } from '../distributions/t.ts'
import { mean } from '../group/moments.ts'

/** One value a day, in per cent. */
export interface DayValue {
  readonly day: string
  readonly pct: number
}

/** A difference of two levels, with its doubt. */
export interface Shift {
  readonly by: number
  readonly standardError: number
  readonly df: number
  readonly ci95: readonly [number, number]
}

/**
 * Mean of the later values less mean of the earlier, one scatter for both: a new level may have a single value so far. `floor`: the smallest sd
 * that the values can honestly have. `null` where a side is empty or both have one value only.
 */
export function levelShift(
  earlier: readonly number[],
  later: readonly number[],
  floor: number,
): Shift | null {
  const df = earlier.length + later.length - 2
  if (earlier.length === 0 || later.length === 0 || df < 1) return null
  const [a, b] = [mean(earlier), mean(later)]
  const squares = [...earlier.map(v => v - a), ...later.map(v => v - b)].reduce((sum, d) => sum + d * d, 0)
  const sd = Math.max(floor, Math.sqrt(squares / df))
  return shiftOf(b - a, sd * Math.sqrt(1 / earlier.length + 1 / later.length), df)
}

/** One shift less another that is independent of it; degrees of freedom after Satterthwaite. */
export function shiftLess(whole: Shift, part: Shift): Shift {
  const [v, w] = [whole.standardError ** 2, part.standardError ** 2]
  const df = v + w > 0 ? (v + w) ** 2 / (v ** 2 / whole.df + w ** 2 / part.df) : whole.df
  return shiftOf(whole.by - part.by, Math.sqrt(v + w), df)
}

/** Whether its interval leaves 0 out. */
export const hasMoved = ({ ci95: [low, high] }: Shift): boolean => low > 0 || high < 0

function shiftOf(by: number, standardError: number, df: number): Shift {
  const half = standardError > 0 ? tQuantile(0.975, df) * standardError : 0
  return { by, standardError, df, ci95: [by - half, by + half] }
}

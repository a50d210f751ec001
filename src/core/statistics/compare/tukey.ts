import { studentizedRangeQuantile, studentizedRangeUpperTail } from '../distributions/studentizedRange.ts'
import { mean, seenVariance } from '../group/moments.ts'
import { oneWayAnova } from './anova.ts'
import { pairs } from './pairs.ts'

/** A pair's difference with an interval and a p that hold for all pairs at once. */
export interface Simultaneous {
  readonly a: number
  readonly b: number
  readonly difference: number
  readonly ci95: readonly [number, number]
  readonly p: number
}

/**
 * All pairs after Tukey, for unequal numbers after Kramer (Biometrics 12 (1956) 307): groups of one scatter.
 * `a` and `b` are indices of `groups`. `null` where the analysis of variance has no value or a group is empty.
 */
export function tukeyKramer(groups: readonly Float64Array[]): Simultaneous[] | null {
  const anova = oneWayAnova(groups)
  if (!anova || groups.some(g => g.length === 0)) return null
  const critical = studentizedRangeQuantile(0.95, groups.length, anova.df2)
  return pairs(groups.length).map(([a, b]) => {
    const error = anova.residualSd * Math.sqrt((1 / groups[a]!.length + 1 / groups[b]!.length) / 2)
    return simultaneous(groups, [a, b], error, critical, q =>
      studentizedRangeUpperTail(q, groups.length, anova.df2),
    )
  })
}

/**
 * All pairs where the scatters need not be alike: Games and Howell, J. Educ. Statist. 1 (1976) 113.
 * Needs two values and some scatter in each group; else `null`. A little too ready to see something in groups under 6.
 */
export function gamesHowell(groups: readonly Float64Array[]): Simultaneous[] | null {
  if (groups.length < 2 || groups.some(g => g.length < 2)) return null
  const parts = groups.map(g => seenVariance(g) / g.length)
  if (parts.filter(part => !(part > 0)).length > 1) return null
  return pairs(groups.length).map(([a, b]) => {
    const both = parts[a]! + parts[b]!
    const df =
      both ** 2 / (parts[a]! ** 2 / (groups[a]!.length - 1) + parts[b]! ** 2 / (groups[b]!.length - 1))
    const critical = studentizedRangeQuantile(0.95, groups.length, df)
    return simultaneous(groups, [a, b], Math.sqrt(both / 2), critical, q =>
      studentizedRangeUpperTail(q, groups.length, df),
    )
  })
}

function simultaneous(
  groups: readonly Float64Array[],
  [a, b]: readonly [number, number],
  error: number,
  critical: number,
  upper: (q: number) => number,
): Simultaneous {
  const difference = mean(groups[a]!) - mean(groups[b]!)
  return {
    a,
    b,
    difference,
    ci95: [difference - critical * error, difference + critical * error],
    p: upper(Math.abs(difference) / error),
  }
}

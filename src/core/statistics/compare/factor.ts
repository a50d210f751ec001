import { fUpperTail } from '../distributions/f.ts'
import { tQuantile, tTwoSided } from '../distributions/t.ts'
import { mean, variance } from '../group/moments.ts'
import type { FTest } from './anova.ts'
import { bendOf, type FactorCurve, factorCurve } from './factorCurve.ts'
import { measuredOf, type Specimen, valuesOf } from './specimen.ts'

/** Groups that differ by a number, as widths of 10, 20 and 30 mm: the values as a straight line over it. */
export interface NumericFactor {
  /** Unit of the number as the names have it; `''` for bare numbers. */
  readonly unit: string
  /** Change of the value for one more of the number. */
  readonly slope: number
  readonly ci95: readonly [number, number]
  readonly t: number
  readonly df: number
  readonly p: number
  /** Value of the line at each group's number. */
  readonly line: { readonly at: number; readonly value: number }[]
  /** Do the groups' means leave the line by more than scatter? `null` where no group has two values. */
  readonly lackOfFit: FTest | null
  /** Does it bend? Test of the square beside the line; `null` with fewer than three numbers or no degree of freedom. */
  readonly bend: { readonly t: number; readonly df: number; readonly p: number } | null
  /** The mean over the number, a line or, where it bends, a parabola, with the band that holds all of it 95 times in 100. */
  readonly curve: FactorCurve | null
}

/** Fewest different numbers that make a trend and not a pair. */
const LEAST_LEVELS = 3

/** p under which means leave the line, so that a line is no fair account of them. */
const LEAVES = 0.05

/**
 * Least squares over the number in the groups' names, where at least three groups all have one in one unit; judged as one
 * question, not pair by pair. Where the means leave the line, the slope's doubt is taken from how they do (mean square of
 * the lack of fit, on its degrees of freedom): Draper and Smith, Applied Regression Analysis, 1998, chapter 2.
 * `null` where names are no numbers, a group has a value that is only a bound, or no degree of freedom is left.
 */
export function numericFactor(
  groups: readonly { readonly name: string; readonly specimens: readonly Specimen[] }[],
): NumericFactor | null {
  const levels = groups.map(g => numberIn(g.name))
  const unit = levels[0]?.unit
  if (unit === undefined || levels.some(l => l === null || l.unit !== unit)) return null
  const used = groups.map((g, i) => ({ at: levels[i]!.at, values: valuesOf(measuredOf(g.specimens)) }))
  const bounded = groups.some(g => g.specimens.some(s => s.status === 'at-least' && s.dropped === null))
  if (bounded || used.some(g => g.values.length === 0)) return null
  if (new Set(used.map(g => g.at)).size < LEAST_LEVELS) return null
  return fitted(used, unit)
}

function fitted(
  groups: readonly { readonly at: number; readonly values: Float64Array }[],
  unit: string,
): NumericFactor | null {
  const n = groups.reduce((sum, g) => sum + g.values.length, 0)
  const middleX = groups.reduce((sum, g) => sum + g.at * g.values.length, 0) / n
  const middleY = mean(groups.flatMap(g => [...g.values]))
  const sxx = groups.reduce((sum, g) => sum + g.values.length * (g.at - middleX) ** 2, 0)
  const sxy = groups.reduce(
    (sum, g) => sum + (g.at - middleX) * g.values.length * (mean(g.values) - middleY),
    0,
  )
  const slope = sxy / sxx
  const lineAt = (x: number): number => middleY + slope * (x - middleX)
  const pure = groups.reduce(
    (sum, g) => sum + (g.values.length < 2 ? 0 : variance(g.values) * (g.values.length - 1)),
    0,
  )
  const off = groups.reduce((sum, g) => sum + g.values.length * (mean(g.values) - lineAt(g.at)) ** 2, 0)
  const [dfPure, dfOff] = [n - groups.length, groups.length - 2]
  const f = off / dfOff / (pure / dfPure)
  const lackOfFit =
    dfPure > 0 && pure > 0 ? { f, df1: dfOff, df2: dfPure, p: fUpperTail(f, dfOff, dfPure) } : null
  const leaves = lackOfFit === null || lackOfFit.p < LEAVES
  const df = leaves ? dfOff : dfOff + dfPure
  const error = Math.sqrt((leaves ? off : off + pure) / df / sxx)
  if (!(error > 0)) return null
  const half = tQuantile(0.975, df) * error
  const t = slope / error
  const values = groups.flatMap(g => Array.from(g.values, y => ({ x: g.at, y })))
  const bend = bendOf(values)
  return {
    unit,
    slope,
    ci95: [slope - half, slope + half],
    t,
    df,
    p: tTwoSided(t, df),
    line: groups.map(g => ({ at: g.at, value: lineAt(g.at) })),
    lackOfFit,
    bend,
    curve: factorCurve(values, bend !== null && bend.p < LEAVES ? 2 : 1),
  }
}

/** `20 mm`, `20mm`, `20`: the number and what follows it. */
export function numberIn(name: string): { at: number; unit: string } | null {
  const found = /^([+-]?\d+(?:[.,]\d+)?)\s*(\D*)$/.exec(name.trim())
  return found ? { at: Number(found[1]!.replace(',', '.')), unit: found[2]!.trim() } : null
}

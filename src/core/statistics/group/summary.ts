import { andersonDarling } from './andersonDarling.ts'
import { bcaInterval } from './bootstrap.ts'
import { type Interval, meanInterval, sdInterval } from './intervals.ts'
import { normalLowerBound, orderLowerBound } from './lowerBound.ts'
import { type Missing, missingFigures } from './missing.ts'
import { GREATEST_VALUE, mean, quantileSorted, sorted, standardDeviation } from './moments.ts'
import { suspects } from './outliers.ts'
import { shapiroWilk, type TestResult } from './shapiroWilk.ts'
import type { Suspect } from './suspect.ts'
import { fitWeibull, type WeibullFit } from './weibullFit.ts'
import { type StrengthLimits, type WeibullStrengths, weibullStrengths } from './weibullStrengths.ts'

/** What a share of all specimens exceeds, with 95 % confidence: 90 % and 99 %. */
export interface Bounds {
  readonly p90c95: number | null
  readonly p99c95: number | null
}

export interface LowerBounds extends Bounds {
  /** What the two figures rest on: `normal`, or `weibull` where specimens only reached their value. */
  readonly method: 'normal' | 'weibull'
  readonly normal: Bounds
  readonly weibull: Bounds
  /** Without any assumption of shape; from 29 and 299 specimens. */
  readonly anyShape: Bounds
}

export interface WeibullSummary {
  readonly shape: number
  /** Characteristic strength: 63.2 % of specimens do not reach it. */
  readonly scale: number
  readonly shapeUnbiased: number
  /** Likelihood-ratio intervals. */
  readonly shape95: Interval
  readonly scale95: Interval
  /** Strengths that 1 % and 10 % of specimens do not reach, with conditional intervals. */
  readonly p01: number
  readonly p10: number
  readonly p01ci95: Interval
  readonly p10ci95: Interval
  readonly censored: number
}

/** The record of one group (comparison document), in the unit of its values. */
export interface GroupSummary {
  readonly name: string
  /** Specimens with a value, those that only reached it included. */
  readonly n: number
  /** Of these, the ones whose strength is at least their value. */
  readonly censored: number
  readonly mean: number | null
  readonly sd: number | null
  /** sd/mean, as a ratio; for positive means. */
  readonly cv: number | null
  readonly median: number | null
  /** First and third quartile, rule R-7. */
  readonly quartiles: Interval | null
  readonly min: number | null
  readonly max: number | null
  readonly ci95: Interval | null
  readonly sd95: Interval | null
  readonly bootstrap95: Interval | null
  readonly lowerBounds: LowerBounds
  readonly weibull: WeibullSummary | null
  readonly normality: ({ readonly test: 'Shapiro–Wilk' } & TestResult) | null
  readonly andersonDarling: TestResult | null
  readonly outliers: readonly Suspect[]
  /** Every null above, with its reason. */
  readonly missing: readonly Missing[]
}

export interface SummaryOptions {
  /** True where a specimen only reached its value (`at-least`). */
  readonly censored?: readonly boolean[]
  /** Of the bootstrap. */
  readonly seed?: number
  readonly resamples?: number
}

/**
 * Everything that one group of strengths says by itself. `values` are numbers up to GREATEST_VALUE in size (anything else
 * throws: whoever reads a table refuses it first); what was not recorded has no value and is listed by the caller.
 * Where specimens only reached their value, figures that would read low by taking it for the strength (mean, sd and
 * what follows from them) are left out, and the Weibull fit and bounds, which count it as what it is, stand.
 */
export function summariseGroup(
  name: string,
  values: ArrayLike<number>,
  { censored = [], seed = 1, resamples = 10_000 }: SummaryOptions = {},
): GroupSummary {
  const own = Float64Array.from(values)
  if (!own.every(v => Math.abs(v) <= GREATEST_VALUE)) {
    throw new RangeError(`group ${name} has a value that is not a number up to ${GREATEST_VALUE}`)
  }
  const cut = own.filter((_, i) => censored[i] === true).length
  const complete = cut === 0 ? own : new Float64Array(0)
  const average = complete.length > 0 ? mean(complete) : null
  const sd = complete.length > 1 ? standardDeviation(complete) : null
  const data = { values: own, censored }
  const fit = fitWeibull(data)
  const strengths = weibullStrengths(data)
  const figures = {
    mean: average,
    sd,
    cv: average !== null && sd !== null && average > 0 ? sd / average : null,
    ...orderFigures(own, censored),
    ci95: meanInterval(complete),
    sd95: sdInterval(complete),
    bootstrap95: bcaInterval(complete, { seed, resamples }),
    lowerBounds: boundsOf(own, censored, strengths),
    weibull: fit === null || strengths === null ? null : summariseWeibull(fit, strengths),
    normality: shapiroWilkRecord(complete),
    andersonDarling: andersonDarling(complete),
    outliers: suspects(complete),
  }
  return { name, n: own.length, censored: cut, ...figures, missing: missingFigures(own, censored, figures) }
}

/** Figures of rank: each stands as long as no specimen that only reached its value could change it. */
function orderFigures(own: Float64Array, censored: readonly boolean[]) {
  const order = sorted(own)
  const n = order.length
  const firstCut = own.reduce((least, v, i) => (censored[i] === true ? Math.min(least, v) : least), Infinity)
  const known = own.filter((v, i) => censored[i] !== true && v <= firstCut).length
  const quantile = (p: number): number | null =>
    n > 0 && Math.ceil((n - 1) * p) < known ? quantileSorted(order, p) : null
  const low = quantile(0.25)
  const high = quantile(0.75)
  return {
    median: quantile(0.5),
    quartiles: low === null || high === null ? null : ([low, high] as const),
    min: quantile(0),
    max: quantile(1),
  }
}

function boundsOf(
  own: Float64Array,
  censored: readonly boolean[],
  strengths: WeibullStrengths | null,
): LowerBounds {
  const both = (bound: (content: number) => number | null): Bounds => ({
    p90c95: bound(0.9),
    p99c95: bound(0.99),
  })
  const cut = own.some((_, i) => censored[i] === true)
  const normal = both(content => (cut ? null : normalLowerBound(own, content)))
  const weibull = both(content => strengths?.at(1 - content).limit(0.05) ?? null)
  const anyShape = both(content => orderLowerBound(own, content))
  return { ...(cut ? weibull : normal), method: cut ? 'weibull' : 'normal', normal, weibull, anyShape }
}

function summariseWeibull(fit: WeibullFit, strengths: WeibullStrengths): WeibullSummary {
  const { shape, scale, shapeUnbiased, shape95, scale95, censored } = fit
  const one = strengths.at(0.01)
  const ten = strengths.at(0.1)
  const interval = ({ limit }: StrengthLimits): Interval => [limit(0.025), limit(0.975)]
  return {
    shape,
    scale,
    shapeUnbiased,
    shape95,
    scale95,
    p01: one.estimate,
    p10: ten.estimate,
    p01ci95: interval(one),
    p10ci95: interval(ten),
    censored,
  }
}

function shapiroWilkRecord(values: Float64Array): GroupSummary['normality'] {
  const result = shapiroWilk(values)
  return result === null ? null : { test: 'Shapiro–Wilk', ...result }
}

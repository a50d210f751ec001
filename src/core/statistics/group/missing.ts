import { LEAST_FOR_ANDERSON_DARLING } from './andersonDarling.ts'
import { LEAST_FOR_BOOTSTRAP } from './bootstrap.ts'
import { leastForOrderBound } from './lowerBound.ts'
import { GREATEST_VALUE } from './moments.ts'
import { LEAST_FOR_SHAPIRO_WILK } from './shapiroWilk.ts'
import { LEAST_BROKEN } from './weibullFit.ts'

/** A figure that cannot be had, and why. */
export interface Missing {
  /** Its key in the group's record. */
  readonly figure: string
  readonly why: 'too-few' | 'too-many' | 'no-scatter' | 'not-positive' | 'censored'
  /** One sentence. */
  readonly text: string
  /** How many specimens would do, where that is what is missing. */
  readonly atLeast: number | null
}

type Reason = Omit<Missing, 'figure'>

/** Specimens that each figure asks for. */
const LEAST: Readonly<Record<string, number>> = {
  mean: 1,
  median: 1,
  min: 1,
  max: 1,
  quartiles: 1,
  sd: 2,
  cv: 2,
  ci95: 2,
  sd95: 2,
  bootstrap95: LEAST_FOR_BOOTSTRAP,
  weibull: LEAST_BROKEN,
  normality: LEAST_FOR_SHAPIRO_WILK,
  andersonDarling: LEAST_FOR_ANDERSON_DARLING,
  'lowerBounds.normal': 2,
  'lowerBounds.weibull': LEAST_BROKEN,
  'lowerBounds.anyShape.p90c95': leastForOrderBound(0.9),
  'lowerBounds.anyShape.p99c95': leastForOrderBound(0.99),
}

/** The reason of every null among the figures of a group. */
export function missingFigures(
  values: Float64Array,
  censored: readonly boolean[],
  figures: Readonly<Record<string, unknown>> & {
    readonly lowerBounds: {
      readonly normal: { readonly p90c95: number | null }
      readonly weibull: { readonly p90c95: number | null }
      readonly anyShape: { readonly p90c95: number | null; readonly p99c95: number | null }
    }
  },
): readonly Missing[] {
  const { normal, weibull, anyShape } = figures.lowerBounds
  const all: Readonly<Record<string, unknown>> = {
    ...figures,
    'lowerBounds.normal': normal.p90c95,
    'lowerBounds.weibull': weibull.p90c95,
    'lowerBounds.anyShape.p90c95': anyShape.p90c95,
    'lowerBounds.anyShape.p99c95': anyShape.p99c95,
  }
  return Object.keys(LEAST)
    .filter(figure => all[figure] === null)
    .map(figure => ({ figure, ...reasonFor(figure, values, censored) }))
}

function reasonFor(figure: string, values: Float64Array, censored: readonly boolean[]): Reason {
  const byWeibull = figure.endsWith('eibull')
  const cut = values.filter((_, i) => censored[i] === true).length
  const counted = byWeibull ? values.length - cut : values.length
  const least = LEAST[figure]!
  if (counted < least) {
    const what = byWeibull ? 'broken specimens' : 'specimens'
    return {
      why: 'too-few',
      text: `It needs at least ${least} ${what}; there ${counted === 1 ? 'is' : 'are'} ${counted}.`,
      atLeast: least,
    }
  }
  if (byWeibull && values.some(v => v < 1 / GREATEST_VALUE)) {
    return {
      why: 'not-positive',
      text: 'A Weibull strength is above 0, and a value here is not.',
      atLeast: null,
    }
  }
  if (figure === 'cv' && cut === 0 && values.some(v => v !== values[0])) {
    return {
      why: 'not-positive',
      text: 'The mean is not above 0, so a share of it says nothing.',
      atLeast: null,
    }
  }
  if (cut > 0 && !byWeibull) {
    return {
      why: 'censored',
      text: `${cut} of ${values.length} only reached ${cut === 1 ? 'its' : 'their'} value: this figure would read low.`,
      atLeast: null,
    }
  }
  if (figure === 'normality' && values.length > 5000) {
    return { why: 'too-many', text: 'The test is made for up to 5,000 values.', atLeast: null }
  }
  return {
    why: 'no-scatter',
    text: byWeibull
      ? 'No specimen broke below the strongest value, so the shape has no limit.'
      : 'All values are equal: their scatter is too small for the display to show.',
    atLeast: null,
  }
}

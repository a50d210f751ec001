import { mean, quantileSorted, sorted, standardDeviation } from '../statistics/group/moments.ts'
import { type Random, seededRandom } from '../statistics/random.ts'
import type { Input } from './input.ts'
import type { Correlations, Model } from './propagate.ts'

export interface MonteCarloOptions {
  readonly trials?: number
  readonly seed?: number
  readonly coverage?: number
  /** Between normal inputs only. */
  readonly correlations?: Correlations
}

export interface MonteCarlo {
  readonly mean: number
  readonly standard: number
  /** Ends of the interval with equal chances outside on both sides. */
  readonly low: number
  readonly high: number
  readonly trials: number
  readonly seed: number
}

/**
 * Propagation of distributions by Monte Carlo (GUM supplement 1, JCGM 101:2008, chapter 7): every input is drawn from
 * its distribution, a type A input from the scaled and shifted t (6.4.9), and the result's spread is read off the draws.
 */
export function monteCarlo(
  model: Model,
  inputs: readonly Input[],
  { trials = 100_000, seed = 1, coverage = 0.95, correlations = [] }: MonteCarloOptions = {},
): MonteCarlo {
  const random = seededRandom(seed)
  const factor = choleskyOf(inputs.length, correlations)
  const results = Float64Array.from({ length: trials }, () => {
    const standardised = factor
      ? mixed(
          factor,
          inputs.map(() => random.normal()),
        )
      : inputs.map(input => draw(input, random))
    return model(inputs.map((input, i) => input.value + input.standard * standardised[i]!))
  })
  const ordered = sorted(results)
  return {
    mean: mean(results),
    standard: standardDeviation(results),
    low: quantileSorted(ordered, (1 - coverage) / 2),
    high: quantileSorted(ordered, (1 + coverage) / 2),
    trials,
    seed,
  }
}

/** A draw in standard uncertainties: sd 1 where `df` is ∞, t's wider spread where it is not. */
function draw({ shape, df }: Input, random: Random): number {
  if (shape === 'rectangular') return Math.sqrt(3) * (2 * random.uniform() - 1)
  if (shape === 'triangular') return Math.sqrt(6) * (random.uniform() + random.uniform() - 1)
  return df === Infinity ? random.normal() : random.normal() / Math.sqrt(meanSquare(df, random))
}

/** χ²/ν of ν normal draws; ν is rounded down to whole draws, which only widens the result. */
function meanSquare(df: number, random: Random): number {
  const whole = Math.max(1, Math.floor(df))
  let sum = 0
  for (let i = 0; i < whole; i++) sum += random.normal() ** 2
  return sum / whole
}

/** Lower factor of the correlation matrix, or `null` where nothing is correlated. */
function choleskyOf(size: number, correlations: Correlations): number[][] | null {
  if (correlations.length === 0) return null
  const matrix = Array.from({ length: size }, (_, i) => Array.from({ length: size }, (_, j) => +(i === j)))
  for (const { i, j, r } of correlations) {
    matrix[i]![j] = r
    matrix[j]![i] = r
  }
  for (let j = 0; j < size; j++) {
    for (let i = j; i < size; i++) {
      let sum = matrix[i]![j]!
      for (let k = 0; k < j; k++) sum -= matrix[i]![k]! * matrix[j]![k]!
      if (i === j && !(sum > 0)) throw new RangeError('these correlations contradict one another')
      matrix[i]![j] = i === j ? Math.sqrt(sum) : sum / matrix[j]![j]!
    }
  }
  return matrix
}

const mixed = (factor: readonly number[][], normals: readonly number[]): number[] =>
  factor.map((row, i) => row.slice(0, i + 1).reduce((sum, value, j) => sum + value * normals[j]!, 0))

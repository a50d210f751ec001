import { type Point, stepsOf } from './points.ts'

/** What the residuals of a fit are made of, as standard deviations in newton. */
export interface Scatter {
  /** Readings of one step in one direction about their own mean; `null` where nothing was repeated. */
  readonly repeatN: number | null
  readonly repeatDf: number
  /** Sum of squares behind `repeatN`. */
  readonly repeatSumN2: number
  /** Rising and falling apart: half the hysteresis, as it spreads the points about the curve. */
  readonly hysteresisN: number
}

/** Repeats and hysteresis of the residuals, found step by step. */
export function scatterOf(points: readonly Point[], residualsN: ArrayLike<number>): Scatter {
  let sum = 0
  let df = 0
  const halves: number[] = []
  const noises: number[] = []
  for (const { at } of stepsOf(points)) {
    const [up, down] = (['up', 'down'] as const).map(direction =>
      at.filter(i => points[i]!.direction === direction).map(i => residualsN[i]!),
    ) as [number[], number[]]
    for (const values of [up, down]) {
      if (values.length < 2) continue
      const middle = mean(values)
      sum += values.reduce((total, v) => total + (v - middle) ** 2, 0)
      df += values.length - 1
    }
    if (up.length > 0 && down.length > 0 && points[at[0]!]!.appliedN > 0) {
      halves.push((mean(up) - mean(down)) / 2)
      noises.push((1 / up.length + 1 / down.length) / 4)
    }
  }
  const repeatN = df > 0 ? Math.sqrt(sum / df) : null
  // The noise of the two means is not hysteresis.
  const square = halves.length > 0 ? mean(halves.map(h => h * h)) - (repeatN ?? 0) ** 2 * mean(noises) : 0
  return { repeatN, repeatDf: df, repeatSumN2: sum, hysteresisN: Math.sqrt(Math.max(0, square)) }
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v / values.length, 0)

import { type Point, type Step, stepsOf } from './points.ts'

/** The errors of one step, in per cent of its force (ISO 7500-1; definitions as commonly given, from memory). */
export interface StepErrors {
  readonly atN: number
  readonly readings: number
  /** Runs in which it was loaded on the way up. */
  readonly runs: number
  /** q = (mean of indicated rising − true)/true. */
  readonly indicationPct: number | null
  /** b = (greatest − smallest indicated rising)/true; `null` with fewer than two runs. */
  readonly repeatabilityPct: number | null
  /** v = (indicated falling − indicated rising of the same run)/true, the greatest in size. */
  readonly reversibilityPct: number | null
  /** a = resolution/true. */
  readonly resolutionPct: number | null
}

export interface IndicationErrors {
  /** Rising; the empty hook is not among them. */
  readonly steps: readonly StepErrors[]
  /** f0 = indication left after unloading/greatest force, the greatest in size; `null` where it was not measured. */
  readonly zeroPct: number | null
}

/**
 * Errors of what the rig indicates, step by step. `indicatedN` is each point's indication in newton. A run that begins
 * with a reading of the empty hook is counted from that reading, as if zero had been set there.
 */
export function indicationErrors(
  points: readonly Point[],
  indicatedN: readonly number[],
  resolutionN: (forceN: number) => number | null,
): IndicationErrors {
  const steps = stepsOf(points)
  const fullN = steps.at(-1)?.appliedN ?? 0
  const zeros = zerosByCycle(points, indicatedN)
  const netN = points.map((point, i) => indicatedN[i]! - (zeros.get(point.cycle) ?? 0))
  return {
    steps: steps
      .filter(step => step.appliedN > 0)
      .map(step => stepErrors(step, points, netN, resolutionN(step.appliedN))),
    zeroPct: zeroReturn(points, netN, fullN),
  }
}

/** The last reading of the empty hook before each run's loads. */
function zerosByCycle(points: readonly Point[], indicatedN: readonly number[]): Map<number, number> {
  const zeros = new Map<number, number>()
  points.forEach((point, i) => {
    if (point.appliedN === 0 && point.direction === 'up') zeros.set(point.cycle, indicatedN[i]!)
  })
  return zeros
}

function stepErrors(
  { appliedN, at }: Step,
  points: readonly Point[],
  netN: readonly number[],
  resolutionN: number | null,
): StepErrors {
  const pct = (forceN: number) => (100 * forceN) / appliedN
  const rising = at.filter(i => points[i]!.direction === 'up')
  const values = rising.map(i => netN[i]! - points[i]!.appliedN)
  const mean = values.reduce((sum, v) => sum + v / values.length, 0)
  const reversals = at
    .filter(i => points[i]!.direction === 'down')
    .flatMap(i => {
      const up = rising.find(j => points[j]!.cycle === points[i]!.cycle)
      return up === undefined ? [] : [pct(netN[i]! - netN[up]!)]
    })
  return {
    atN: appliedN,
    readings: at.length,
    runs: new Set(rising.map(i => points[i]!.cycle)).size,
    indicationPct: values.length > 0 ? pct(mean) : null,
    repeatabilityPct: values.length > 1 ? pct(Math.max(...values) - Math.min(...values)) : null,
    reversibilityPct: greatest(reversals),
    resolutionPct: resolutionN === null ? null : pct(resolutionN),
  }
}

function zeroReturn(points: readonly Point[], netN: readonly number[], fullN: number): number | null {
  const left = points.flatMap((point, i) =>
    point.appliedN === 0 && point.direction === 'down' ? [(100 * netN[i]!) / fullN] : [],
  )
  return greatest(left)
}

/** The value greatest in size, with its sign; `null` of none. */
export const greatest = (values: readonly number[]): number | null =>
  values.length === 0 ? null : values.reduce((most, v) => (Math.abs(v) > Math.abs(most) ? v : most))

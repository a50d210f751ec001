import type { Calibration } from './document.ts'
import { greatest } from './errors.ts'
import { type Point, stepsOf } from './points.ts'

/**
 * How the cell behaves, apart from any class: span, bend, hysteresis and zero return, in per cent of the greatest force.
 * `fittedN` is the fit's force at each point.
 */
export function behaviourOf(
  points: readonly Point[],
  fittedN: readonly number[],
  zeroReading: number,
  zeroReturnPct: number | null,
): Calibration['behaviour'] {
  const steps = stepsOf(points)
  const top = steps.at(-1)!
  const mean = (at: readonly number[], of: (i: number) => number): number | null =>
    at.length === 0 ? null : at.reduce((sum, i) => sum + of(i) / at.length, 0)
  const apart = steps.flatMap(({ at, appliedN }) => {
    const up = mean(
      at.filter(i => points[i]!.direction === 'up'),
      i => fittedN[i]!,
    )
    const down = mean(
      at.filter(i => points[i]!.direction === 'down'),
      i => fittedN[i]!,
    )
    return up === null || down === null || appliedN === 0 ? [] : [down - up]
  })
  const ofTop = (forceN: number | null) => (forceN === null ? null : (100 * forceN) / top.appliedN)
  return {
    spanReading: mean(top.at, i => points[i]!.reading)! - zeroReading,
    nonLinearityPct: ofTop(bend(points)),
    hysteresisPct: ofTop(greatest(apart)),
    zeroReturnPct,
  }
}

/** Greatest departure of the rising steps' mean readings from the line through the first and last of them, in newton. */
function bend(points: readonly Point[]): number | null {
  const rising = stepsOf(points.filter(p => p.direction === 'up'))
  if (rising.length < 3) return null
  const up = points.filter(p => p.direction === 'up')
  const readings = rising.map(({ at }) => at.reduce((sum, i) => sum + up[i]!.reading / at.length, 0))
  const first = { force: rising[0]!.appliedN, reading: readings[0]! }
  const last = { force: rising.at(-1)!.appliedN, reading: readings.at(-1)! }
  if (last.reading === first.reading) return null
  const newtonPerReading = (last.force - first.force) / (last.reading - first.reading)
  return greatest(
    rising.map((step, k) => first.force + (readings[k]! - first.reading) * newtonPerReading - step.appliedN),
  )
}

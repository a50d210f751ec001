import { calibrationFor, forceByCalibration } from '../../core/calibration/applyRig.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { fromNewton, type LogForceUnit, N_PER, parseForceUnit } from '../../core/units/force.ts'

/** Turns a value in the line's own unit into newton, or leaves it as raw counts. */
export type LiveScale = (value: number) => number

/**
 * How the live figures scale a line in this unit: by the rig's latest calibration that fits it and is not
 * after the day (`2026-05-03`), the one that the reading is made with; without one, by the unit alone.
 * `isForce` is false for counts that nothing turns into newton.
 */
export function liveScale(
  unit: LogForceUnit,
  rig: Rig | null,
  atDate: string,
): { readonly scale: LiveScale; readonly isForce: boolean } {
  const calibration = rig === null ? null : calibrationFor(rig, unit, atDate)
  const perUnit = unit === 'counts' ? 1 : N_PER[unit]
  if (calibration === null) return { scale: value => value * perUnit, isForce: unit !== 'counts' }
  const readingUnit = parseForceUnit(calibration.readingUnit)
  if (readingUnit === null || readingUnit === 'counts' || readingUnit === 'N')
    return { scale: value => forceByCalibration(calibration, value * perUnit), isForce: true }
  return {
    scale: value => forceByCalibration(calibration, fromNewton(value * perUnit, readingUnit)),
    isForce: true,
  }
}

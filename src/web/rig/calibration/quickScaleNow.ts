import { scaleByOneMass } from '../../../core/calibration/quickScale.ts'
import type { Mass } from '../../../core/calibration/references.ts'
import type { QuickScale, Rig } from '../../../core/calibration/rig.ts'
import type { Outcome } from '../../../core/problem.ts'
import type { LogForceUnit } from '../../../core/units/force.ts'
import { halfLastDigit } from '../../../core/units/gravity.ts'
import { hung } from '../masses/hung.ts'

export interface QuickSituation {
  readonly rig: Rig
  readonly mass: Mass
  /** Readings as typed, or as the line gave them: the last digit tells how well they are known. */
  readonly empty: string
  readonly loaded: string
  readonly readingUnit: LogForceUnit
  /** `2026-05-03`. */
  readonly date: string
}

/** The scale from one mass: the same as `tenterhook rig quick` makes of it. */
export function quickScaleNow(given: QuickSituation): Outcome<QuickScale> {
  const { rig, mass, empty, loaded, readingUnit, date } = given
  const known = hung(mass, rig)
  if (!known.ok) return known
  return scaleByOneMass({
    appliedN: known.value.appliedN,
    appliedStandardN: known.value.standardN,
    reading: Number(loaded),
    zeroReading: Number(empty),
    readingStandard: Math.hypot(halfLastDigit(loaded), halfLastDigit(empty)) / Math.sqrt(3),
    readingUnit,
    date,
  })
}

import { calibrationFor, forceByCalibration } from '../../../core/calibration/applyRig.ts'
import { type Check, checksIn } from '../../../core/calibration/checkDocument.ts'
import { comparable, type JudgedCheck, judgeCheck } from '../../../core/calibration/judgeCheck.ts'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Rig } from '../../../core/calibration/rig.ts'
import { fine, type Outcome, wrong } from '../../../core/problem.ts'
import { type LogForceUnit, parseForceUnit } from '../../../core/units/force.ts'
import type { DailyCheck } from '../../../server/apiTypes.ts'
import { hung } from '../masses/hung.ts'

/** A level as it was read: already in newton by the rig's calibration, or in the rig's own reading. */
export interface CheckLevel {
  readonly value: number
  /** Standard uncertainty, in the same. */
  readonly standard: number
}

export interface CheckSituation {
  readonly rig: Rig
  readonly earlier: readonly Check[]
  readonly mass: Mass
  readonly empty: CheckLevel
  readonly loaded: CheckLevel
  /** What the levels are in: `null` where the line has turned them into newton. */
  readonly readingUnit: LogForceUnit | null
  /** Greatest force on the cell meanwhile; `null` where the readings were typed. */
  readonly greatestN: number | null
  /** ISO 8601. */
  readonly at: string
}

/** The unit that a typed reading of a rig is in: that of its latest calibration. */
export function typedUnitOf({ calibrations }: Rig): LogForceUnit | null {
  const latest = calibrations.at(-1)
  return latest === undefined ? null : parseForceUnit(latest.readingUnit)
}

/** One check, judged as `tenterhook check` judges it. */
export function checkNow(given: CheckSituation): Outcome<JudgedCheck> {
  const { rig, mass, empty, loaded, readingUnit, at, greatestN, earlier } = given
  const unit = readingUnit ?? typedUnitOf(rig)
  const calibration = unit === null ? null : calibrationFor(rig, unit, at.slice(0, 10))
  if (calibration === null)
    return wrong({
      where: rig.name,
      what: 'it has no calibration that a check could hold it to.',
      cure: 'Calibrate it first.',
    })
  const applied = hung(mass, rig)
  if (!applied.ok) return applied
  const force = (value: number): number =>
    readingUnit === null ? value : forceByCalibration(calibration, value)
  const [emptyN, loadedN] = [force(empty.value), force(loaded.value)]
  const standardN = ({ value, standard }: CheckLevel): number =>
    Math.abs(force(value + standard) - force(value))
  return fine(
    judgeCheck(
      {
        at,
        appliedN: applied.value.appliedN,
        appliedStandardN: applied.value.standardN,
        indicatedN: loadedN - emptyN,
        indicatedStandardN: Math.hypot(standardN(empty), standardN(loaded)),
        zeroN: unit === 'counts' ? emptyN : null,
        greatestN,
      },
      earlier,
      rig,
      calibration,
    ),
  )
}

/** The checks that were kept, the oldest first; what is no check document is passed over. */
export const checksOf = (kept: readonly DailyCheck[]): Check[] =>
  checksIn(kept.map(({ document }) => document))

/** Those under the calibration in force and with the mass of the last one, and their chart. */
export function chartedChecks(checks: readonly Check[]): readonly Check[] {
  const last = checks.at(-1)
  if (!last) return []
  return [...comparable(checks, last, last.calibration === null ? null : { date: last.calibration }), last]
}

/** Whether a check was made on this day of this place. */
export const isCheckedOn = (checks: readonly Check[], day: string): boolean =>
  checks.some(({ at }) => localDay(new Date(at)) === day)

/** `2026-05-03`, by the clock of this place. */
export function localDay(at: Date): string {
  const two = (value: number) => String(value).padStart(2, '0')
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`
}

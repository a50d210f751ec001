import { fine, type Outcome, wrong } from '../problem.ts'
import type { Warning } from './document.ts'
import type { Rig, RigCalibration } from './rig.ts'
import { calibrationName } from './rigScale.ts'

/**
 * What tells a calibration of a rig from its others: its day, the unit of its readings, and the line that it makes, as
 * `2026-05-03 counts -12.5 0.0001`. It begins with the day, so that a person can name most of them by that alone.
 */
export function calibrationKey(calibration: RigCalibration): string {
  const { date, readingUnit } = calibration
  const line =
    calibration.document === 'tenterhook.calibration'
      ? calibration.coefficients
      : [calibration.newtonPerReading, calibration.zeroReading, calibration.doubtPct]
  return [date, readingUnit, ...line].join(' ')
}

/** The calibration of a rig by its key, or by a beginning of it that only one has. */
export function calibrationCalled({ name, calibrations }: Rig, key: string): Outcome<RigCalibration> {
  const exact = calibrations.find(one => calibrationKey(one) === key)
  if (exact) return fine(exact)
  const [first, ...others] = calibrations.filter(one => calibrationKey(one).startsWith(key))
  if (first && others.length === 0 && key !== '') return fine(first)
  const keys = calibrations.map(one => `“${calibrationKey(one)}”`)
  return wrong({
    where: `calibration “${key}”`,
    what: first ? `several of ${name} begin so.` : `${name} has no such calibration.`,
    cure:
      keys.length > 0
        ? `It has ${keys.join(', ')}: name one of them.`
        : 'It has none yet: calibrate it, or name a file with one.',
    code: 'no-such-calibration',
  })
}

/**
 * What is said of a calibration that a person chose over that of the recording's day. `usual`: the one that the day alone
 * would give.
 */
export function chosenWarnings(
  chosen: RigCalibration,
  usual: RigCalibration | null,
  atDate: string | undefined,
): Warning[] {
  if (usual !== null && calibrationKey(usual) === calibrationKey(chosen)) return []
  const days = atDate === undefined ? 0 : Math.round((Date.parse(chosen.date) - Date.parse(atDate)) / DAY_MS)
  const after = days > 0 ? `, made ${days} ${days === 1 ? 'day' : 'days'} after the pull,` : ''
  const instead =
    usual === null ? 'by its day there is none' : `by its day it would be the ${calibrationName(usual)}`
  return [
    {
      code: 'calibration-chosen',
      text: `The ${calibrationName(chosen)}${after} was chosen for this recording; ${instead}.`,
    },
  ]
}

const DAY_MS = 86_400_000

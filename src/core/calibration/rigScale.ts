import type { Scale } from '../reading/scale.ts'
import type { Rig, RigCalibration } from './rig.ts'

const NORMAL_95 = 1.959_963_984_540_054

/** `calibration of 2026-05-03`: for budgets and messages. */
export const calibrationName = (calibration: RigCalibration): string =>
  calibration.document === 'tenterhook.calibration'
    ? `calibration of ${calibration.date}`
    : calibration.basis === 'one-mass'
      ? `scale by one mass of ${calibration.date}`
      : `scale with a typed doubt of ${calibration.date}`

/** What named references make of the doubt at the greatest load. */
function referencesOf(calibration: Extract<RigCalibration, { document: 'tenterhook.calibration' }>) {
  const top = calibration.uncertainty.at(-1)
  if (top === undefined || !(top.standardN > 0)) return []
  return top.parts
    .filter(part => part.source.startsWith('reference '))
    .map(part => ({ of: part.source, share: part.standardN / top.standardN }))
}

/** The scale's doubt for the reading. By one mass or typed doubt it grows with the force. */
export function scaleOfCalibration(calibration: RigCalibration, rig: Rig): Scale {
  const source = calibrationName(calibration)
  if (calibration.document === 'tenterhook.calibration')
    return {
      source,
      of: `${calibration.name} ${calibration.date} ${calibration.coefficients.join(' ')}`,
      references: referencesOf(calibration),
      shared: 'rig',
      points: calibration.scale,
    }
  const of = [rig.name, source, calibration.appliedN, calibration.doubtPct].join(' ')
  const farN = 10 * Math.max(1000, calibration.appliedN ?? 0, rig.cell.capacityN ?? 0)
  return {
    source,
    of,
    shared: 'rig',
    points: [
      { atN: 0, standardN: 0 },
      { atN: farN, standardN: (farN * calibration.doubtPct) / 100 / NORMAL_95 },
    ],
  }
}

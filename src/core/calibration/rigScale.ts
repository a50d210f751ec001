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

/** The scale's doubt for the reading. By one mass or typed doubt it grows with the force. */
export function scaleOfCalibration(calibration: RigCalibration, rig: Rig): Scale {
  const source = calibrationName(calibration)
  if (calibration.document === 'tenterhook.calibration')
    return { source, shared: 'rig', points: calibration.scale }
  const farN = 10 * Math.max(1000, calibration.appliedN ?? 0, rig.cell.capacityN ?? 0)
  return {
    source,
    shared: 'rig',
    points: [
      { atN: 0, standardN: 0 },
      { atN: farN, standardN: (farN * calibration.doubtPct) / 100 / NORMAL_95 },
    ],
  }
}

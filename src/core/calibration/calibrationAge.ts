import type { Warning } from './document.ts'
import type { Rig, RigCalibration } from './rig.ts'
import { calibrationName } from './rigScale.ts'

const DAY_MS = 86_400_000

/** A word on a calibration that is older, at the date, than the rig's limit. */
export function ageWarnings({ limits }: Rig, calibration: RigCalibration | null, atDate?: string): Warning[] {
  if (calibration === null || atDate === undefined) return []
  const days = Math.floor((Date.parse(atDate) - Date.parse(calibration.date)) / DAY_MS)
  if (!(days > limits.calibrationDays)) return []
  return [
    {
      code: 'calibration-old',
      text: `The ${calibrationName(calibration)} was ${days} days old; the limit is ${limits.calibrationDays}.`,
    },
  ]
}

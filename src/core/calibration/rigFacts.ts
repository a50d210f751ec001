import { type Gravity, gravityAt, typedGravity, UNKNOWN_GRAVITY } from '../units/gravity.ts'
import { risesWithReading } from './applyRig.ts'
import type { DatedCalibration, Rig, RigCalibration } from './rig.ts'

/** The gravity of the rig's place: its own word, else that of its latest calibration, else unknown. */
export function gravityOf({ gravity, calibrations }: Rig): Gravity {
  if (gravity !== undefined)
    return 'ms2' in gravity
      ? typedGravity(gravity.ms2, gravity.halfWidthMs2)
      : gravityAt(gravity.latitudeDeg, gravity.heightM)
  const latest = calibrations
    .filter(c => c.document === 'tenterhook.calibration')
    .reduce<DatedCalibration | null>((last, c) => (last === null || c.date >= last.date ? c : last), null)
  return latest === null ? UNKNOWN_GRAVITY : { ms2: latest.gravity, ...latest.gravityFrom }
}

/**
 * How a line of this rig is to be taken while it is read live: left as it is where a calibration by a known load turns
 * it, else by the rig's own word; `undefined` where nothing is known and the sign is found out.
 */
export function tensionOf({ calibrations, sign }: Rig): 'positive' | 'negative' | undefined {
  const turnsIt = (one: RigCalibration) => risesWithReading(one) !== null
  if (calibrations.some(turnsIt) || sign === 1) return 'positive'
  return sign === -1 ? 'negative' : undefined
}

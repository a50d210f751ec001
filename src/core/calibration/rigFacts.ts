import { type Gravity, gravityAt, typedGravity, UNKNOWN_GRAVITY } from '../units/gravity.ts'
import type { DatedCalibration, Rig } from './rig.ts'

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
 * How the log reader should take the sign of tension in a log of this rig: left as it is where a calibration turns it,
 * else by the rig's own word; `undefined` where nothing is known and the reader finds out.
 */
export function tensionOf({ calibrations, sign }: Rig): 'positive' | 'negative' | undefined {
  if (calibrations.length > 0 || sign === 1) return 'positive'
  return sign === -1 ? 'negative' : undefined
}

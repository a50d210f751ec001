import type { Rig } from '../calibration/rig.ts'
import type { KnownRig } from '../reading/knownRig.ts'
import { ownScaleOf, parseForceUnit, toNewton } from '../units/force.ts'
import type { HealthEntry } from './entry.ts'

/**
 * What the latest check of a rig, not after `atDate` (ISO 8601; any where not given), tells a reading;
 * `null` where there was none, or it was made in raw counts, of which nothing follows in newton.
 */
export function knownRigOf({ health = [] }: Rig, atDate?: string): KnownRig | null {
  const last = health.filter(e => atDate === undefined || e.at.slice(0, 10) <= atDate.slice(0, 10)).at(-1)
  if (last === undefined || ownScaleOf(last.forceUnit) !== null) return null
  return {
    source: `check of ${last.at.slice(0, 10)}`,
    settlingReadings: last.settlingReadings ?? null,
    humN: sizeN(last, 'hum'),
    driftNPerMin: sizeN(last, 'drift'),
    warmUpNPerMin: sizeN(last, 'warm-up'),
    wild: last.wild ?? [],
  }
}

/** Size of a finding in newton, or newton a minute. */
function sizeN({ findings }: HealthEntry, code: string): number | null {
  const found = findings.find(f => f.code === code)
  const unit = found && parseForceUnit(found.unit.replace(/\/min$/, ''))
  return !found || !unit || unit === 'counts' ? null : toNewton(found.size, unit)
}

import { calibrationFor, forceByCalibration } from '../calibration/applyRig.ts'
import type { Rig, RigCalibration } from '../calibration/rig.ts'
import type { KnownRig } from '../reading/knownRig.ts'
import { N_PER, ownScaleOf, parseForceUnit } from '../units/force.ts'
import type { HealthStep } from './document.ts'
import type { HealthEntry } from './entry.ts'

/**
 * What the checks of a rig, none after `atDate` (ISO 8601; any where not given), tell a reading: each fact by the latest
 * check that looked at it. A check in raw counts is told in newton by the calibration of counts that holds on `atDate`;
 * without one only what has no unit is. `null` where nothing is told.
 */
export function knownRigOf(rig: Rig, atDate?: string): KnownRig | null {
  const checks = (rig.health ?? []).filter(
    e => atDate === undefined || e.at.slice(0, 10) <= atDate.slice(0, 10),
  )
  const latest = (looked: (e: HealthEntry) => boolean): HealthEntry | null => checks.findLast(looked) ?? null
  const line = lineOf(calibrationFor(rig, 'counts', atDate?.slice(0, 10)))
  const isForce = (e: HealthEntry): boolean =>
    ownScaleOf(e.forceUnit) === null || (e.forceUnit === 'counts' && line !== null)
  const sizeN = (entry: HealthEntry | null, code: string): number | null =>
    entry === null ? null : sizeOf(entry, code, line)
  const by = {
    settling: latest(e => e.settlingReadings != null),
    hum: latest(e => isForce(e) && e.noise !== null),
    drift: latest(e => isForce(e) && hasStep(e, 'free', 'ordinary')),
    warmUp: latest(e => isForce(e) && hasStep(e, 'free')),
    wild: latest(e => isForce(e) && e.wild !== undefined && hasStep(e, 'free', 'mass', 'pull', 'ordinary')),
  }
  const days = [...new Set(Object.values(by).flatMap(e => (e === null ? [] : [e.at.slice(0, 10)])))].sort()
  if (days.length === 0) return null
  return {
    source: days.length === 1 ? `check of ${days[0]}` : `checks of ${days.join(' and ')}`,
    settlingReadings: by.settling?.settlingReadings ?? null,
    humN: sizeN(by.hum, 'hum'),
    driftNPerMin: sizeN(by.drift, 'drift'),
    warmUpNPerMin: sizeN(by.warmUp, 'warm-up'),
    wild:
      by.wild?.forceUnit === 'counts' && line !== null ? onLine(by.wild.wild, line) : (by.wild?.wild ?? []),
  }
}

/** What the checks of a rig mean for the pulls to come. */
export interface KnownForPulls {
  /** Day of the check that told the latest of it. */
  readonly day: string
  /** A smaller drop cannot be seen; `null` where no check tells it in newton. */
  readonly leastDropN: number | null
  /** Minutes after switching on until the zero stands; `null` where it does, or no check looked. */
  readonly waitMin: number | null
}

/** Each by the latest check that looked at it, in newton also where that was made in raw counts; `null` without a check. */
export function knownForPulls(rig: Rig): KnownForPulls | null {
  const checks = rig.health ?? []
  const line = lineOf(calibrationFor(rig, 'counts'))
  const dropN = ({ forceUnit, leastDropN }: HealthEntry): number | null => {
    if (leastDropN === null || ownScaleOf(forceUnit) === null) return leastDropN
    return forceUnit === 'counts' && line !== null ? leastDropN * Math.abs(line.nPerCount) : null
  }
  const drop = checks.findLast(e => dropN(e) !== null)
  const warm = checks.findLast(e => hasStep(e, 'free'))
  const days = [drop, warm].flatMap(e => (e === undefined ? [] : [e.at.slice(0, 10)])).sort()
  const day = days.at(-1) ?? checks.at(-1)?.at.slice(0, 10)
  if (day === undefined) return null
  return { day, leastDropN: drop === undefined ? null : dropN(drop), waitMin: warm?.waitMin ?? null }
}

/** Whether a check had one of the steps; of one kept before steps were, it is taken to have. */
const hasStep = ({ steps }: HealthEntry, ...any: readonly HealthStep[]): boolean =>
  steps === undefined || steps.some(step => any.includes(step))

/** A calibration of raw counts as a straight line. */
interface CountsLine {
  readonly atZeroN: number
  readonly nPerCount: number
}

/** The calibration itself where it is straight; else the chord over the readings that it was made with. */
function lineOf(calibration: RigCalibration | null): CountsLine | null {
  if (calibration === null) return null
  const readings =
    calibration.document === 'tenterhook.calibration' ? calibration.points.map(p => p.reading) : [0, 1]
  const [low, high] = [Math.min(...readings), Math.max(...readings)]
  const lowN = forceByCalibration(calibration, low)
  const nPerCount = (forceByCalibration(calibration, high) - lowN) / (high - low)
  return Number.isFinite(nPerCount) && nPerCount !== 0 ? { atZeroN: lowN - nPerCount * low, nPerCount } : null
}

/** got = slope · level + shift in counts, with newton put for both by N = a + b · counts. */
const onLine = (wild: HealthEntry['wild'], { atZeroN, nPerCount }: CountsLine): KnownRig['wild'] =>
  (wild ?? []).map(({ slope, shiftN, withinN }) => ({
    slope,
    shiftN: atZeroN * (1 - slope) + nPerCount * shiftN,
    withinN: Math.abs(nPerCount) * withinN,
  }))

/** Size of a finding in newton, or newton a minute. */
function sizeOf({ findings }: HealthEntry, code: string, line: CountsLine | null): number | null {
  const found = findings.find(f => f.code === code)
  const unit = found && parseForceUnit(found.unit.replace(/\/min$/, ''))
  if (!found || !unit) return null
  if (unit === 'counts') return line === null ? null : found.size * Math.abs(line.nPerCount)
  return found.size * N_PER[unit]
}

import { applyRig } from '../calibration/applyRig.ts'
import type { Rig } from '../calibration/rig.ts'
import { tensionOf } from '../calibration/rigFacts.ts'
import { type Outcome, wrong } from '../problem.ts'
import type { Recording } from '../recording.ts'
import { type ForceUnit, ownScaleOf } from '../units/force.ts'
import type { Health } from './document.ts'
import { judgeHealth } from './judgeHealth.ts'
import type { HealthRecord } from './types.ts'
import { healthWords } from './units.ts'

export interface OnRig {
  readonly rig: Rig | null
  readonly massN: number | null
  /** Unit to show forces in; `null`: that of the logs. */
  readonly show: ForceUnit | null
  /** Readings a second; left out: those of the rig. */
  readonly askedRateHz?: number | undefined
  /** Noise and drift that do not matter, in N. */
  readonly withinN?: number | undefined
}

/**
 * A log with the sign that it came with, or that the rig has. Whether a load raises the reading is what a check is to tell,
 * and one wild reading far below is enough to have a sign guessed wrong. What a person said of the log stands.
 */
export function asItCame(recording: Recording, rig: Rig | null): Recording {
  const { tension } = recording
  const isNegative = rig !== null && tensionOf(rig) === 'negative'
  if (tension === undefined || tension.told || tension.turned === isNegative) return recording
  return {
    ...recording,
    forceN: recording.forceN.map(value => -value + 0),
    tension: { ...tension, turned: isNegative },
    assumptions: recording.assumptions.filter(({ code }) => code !== 'tension-assumed'),
  }
}

/** A log as the rig's calibration makes it, where it has one that fits; else as it stands. */
export function asRigReads(recording: Recording, rig: Rig): Recording {
  if (rig.calibrations.length === 0) return recording
  const applied = applyRig(recording, { ...rig, extensionAt: 'specimen' })
  return applied.ok ? applied.value.recording : recording
}

/**
 * `judgeHealth` with what is known of the rig. In raw counts and on a log's own scale nothing that is known in newton
 * holds. Problems: records of which some are in a unit of force and some not.
 */
export function judgeOnRig(
  records: readonly HealthRecord[],
  { rig, massN, show, askedRateHz, withinN }: OnRig,
): Outcome<Health> {
  const units = [...new Set(records.map(r => r.recording.forceUnit))]
  const [unit = null] = units
  const hasForce = units.every(u => ownScaleOf(u) === null)
  if (units.length > 1 && !hasForce)
    return wrong({
      where: records.map(r => r.recording.name).join(', '),
      what: 'some are in a unit of force and some are not.',
      cure: 'Take records in one scale, or name a rig whose calibration fits all of them.',
    })
  if (!hasForce && withinN !== undefined)
    return wrong({
      where: 'noise and drift that do not matter',
      what: 'they are given as a force, and the records are in no unit of force.',
      cure: 'Name a calibrated rig, or leave them out.',
    })
  return judgeHealth(records, {
    ...healthWords(unit, hasForce ? show : null),
    askedRateHz: askedRateHz ?? rig?.converter.rateHz,
    withinN,
    ...(hasForce
      ? {
          massN: massN ?? undefined,
          capacityN: rig?.cell.capacityN,
          ratedOutputMvPerV: rig?.cell.ratedOutputMvPerV,
        }
      : {}),
  })
}

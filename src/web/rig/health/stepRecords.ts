import { applyRig } from '../../../core/calibration/applyRig.ts'
import type { Rig } from '../../../core/calibration/rig.ts'
import type { Health, HealthStep } from '../../../core/health/document.ts'
import type { HealthRecord } from '../../../core/health/types.ts'
import { healthWords } from '../../../core/health/units.ts'
import { type Outcome, wrong } from '../../../core/problem.ts'
import type { Recording } from '../../../core/recording.ts'
import type { ForceUnit, LogForceUnit } from '../../../core/units/force.ts'

/** What the line sent during a step, as a recording. */
export function liveRecording(
  step: HealthStep,
  timeS: readonly number[],
  value: readonly number[],
  forceUnit: LogForceUnit,
): Recording {
  const n = timeS.length
  return {
    name: step,
    sha256: '',
    timeS: Float64Array.from(timeS),
    forceN: Float64Array.from(value),
    forceUnit,
    timeFrom: 'column',
    segments: [{ from: 0, to: n, began: 'start', name: step, sha256: '', shiftS: 0 }],
    channels: [],
    notes: [],
    assumptions: [],
    understood: '',
  }
}

/** A log as the rig's calibration makes it, where it has one that fits; else as it stands. */
export function asRigReads(recording: Recording, rig: Rig): Recording {
  if (rig.calibrations.length === 0) return recording
  const applied = applyRig(recording, { ...rig, extensionAt: 'specimen' })
  return applied.ok ? applied.value.recording : recording
}

/** The judgement, as `tenterhook rig health` makes it. The engine is loaded when it is asked for. */
export async function judgeSteps(
  records: readonly HealthRecord[],
  rig: Rig,
  massN: number | null,
  show: ForceUnit,
): Promise<Outcome<Health>> {
  const units = [...new Set(records.map(r => r.recording.forceUnit))]
  const [unit = null] = units
  const hasForce = units.every(u => u !== null && u !== 'counts')
  if (units.length > 1 && !hasForce)
    return wrong({
      where: records.map(r => r.recording.name).join(', '),
      what: 'some are in a unit of force and some are not.',
      cure: 'Take all steps from the line, or all from logs of one scale.',
    })
  const { judgeHealth } = await import('../../../core/health/judgeHealth.ts')
  return judgeHealth(records, {
    ...healthWords(unit, hasForce ? show : null),
    askedRateHz: rig.converter.rateHz,
    ...(hasForce
      ? {
          massN: massN ?? undefined,
          capacityN: rig.cell.capacityN,
          ratedOutputMvPerV: rig.cell.ratedOutputMvPerV,
        }
      : {}),
  })
}

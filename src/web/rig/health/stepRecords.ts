import type { Rig } from '../../../core/calibration/rig.ts'
import type { Health, HealthStep } from '../../../core/health/document.ts'
import type { HealthRecord } from '../../../core/health/types.ts'
import type { Outcome } from '../../../core/problem.ts'
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

/** The judgement, as `tenterhook rig health` makes it. The engine is loaded when it is asked for. */
export async function judgeSteps(
  records: readonly HealthRecord[],
  rig: Rig,
  massN: number | null,
  show: ForceUnit,
): Promise<Outcome<Health>> {
  const { judgeOnRig } = await import('../../../core/health/judgeOnRig.ts')
  return judgeOnRig(records, { rig, massN, show })
}

/** A log as the rig's calibration makes it, where it has one that fits; else as it stands. */
export async function asOwnRigReads(recording: Recording, rig: Rig): Promise<Recording> {
  const { asRigReads } = await import('../../../core/health/judgeOnRig.ts')
  return asRigReads(recording, rig)
}

/** The log of a step, with the sign that it came with or that its rig has, as the rig's calibration makes it. */
export async function stepOnRig(recording: Recording, rig: Rig): Promise<Recording> {
  const { asItCame, asRigReads } = await import('../../../core/health/judgeOnRig.ts')
  return asRigReads(asItCame(recording, rig), rig)
}

import { type RigApplied, withRig } from '../../core/calibration/applyRig.ts'
import { calibrationCalled } from '../../core/calibration/chosen.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { knownRigOf } from '../../core/health/knownRig.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { KnownRig } from '../../core/reading/knownRig.ts'
import { PRACTICE } from '../../core/reading/practice.ts'
import type { Recording } from '../../core/recording.ts'
import { ownScaleOf } from '../../core/units/force.ts'
import { joinRecordings } from '../joinRecordings.ts'
import { asOnRig } from './asOnRig.ts'

/** What a specimen's recording is made from. */
export interface RecordedParts {
  /** As their logs have them, in the order in which they are joined. */
  readonly recordings: readonly Recording[]
  /** The rig that they were made on, its calibrations inside; `null` where it is not known. */
  readonly rig: Rig | null
  /** Day of the pull (ISO 8601), for the calibration that counts and its age; `null` where it is not known. */
  readonly day: string | null
  /** Key of the calibration of the rig that a person chose; `null`: the latest that is not after the day. */
  readonly calibration: string | null
  /** What a person said that the cell may read: it counts for more than the rig's word. `null`: nothing was said. */
  readonly capacityN: number | null
  /** They came from the pretend rig. */
  readonly isPractice: boolean
}

/** The logs of a specimen as one recording: in newton by its rig, else on the scale of the log itself. */
export interface SpecimenRecording {
  readonly recording: Recording
  readonly scale: RigApplied['scale']
  readonly rigWarnings: RigApplied['warnings']
  /** What a check of its health told of the rig; `null` where nothing did. */
  readonly known: KnownRig | null
  readonly limits: { readonly capacityN: number | null; readonly strokeMm: number | null }
}

/**
 * The recordings of a specimen as one. Raw counts that no calibration of the rig fits stay counts. Problems: logs that
 * cannot be joined; a log that goes against the sign that the rig tells; a chosen calibration that
 * the rig does not have (any more).
 */
export function specimenRecording({
  recordings,
  rig,
  day,
  calibration,
  capacityN,
  isPractice,
}: RecordedParts): Outcome<SpecimenRecording> {
  const chosen = rig === null || calibration === null ? fine(null) : calibrationCalled(rig, calibration)
  if (!chosen.ok) return chosen
  const ready: Recording[] = []
  for (const recording of recordings) {
    const one = rig === null ? fine(recording) : asOnRig(recording, rig, day ?? undefined, chosen.value)
    if (!one.ok) return one
    ready.push(one.value)
  }
  const joined = joinRecordings(ready)
  if (!joined.ok) return joined
  const { recording, scale, warnings } =
    rig === null ? bare(joined.value) : withRig(joined.value, rig, day ?? undefined, chosen.value)
  const isForce = ownScaleOf(recording.forceUnit) === null
  return fine({
    recording,
    scale,
    rigWarnings: [
      ...(isPractice ? [PRACTICE] : []),
      ...(recording.forceUnit === 'counts' ? [inCounts(rig)] : []),
      ...warnings,
    ],
    known: rig === null || !isForce ? null : knownRigOf(rig, day ?? undefined),
    limits: {
      // A limit in newton says nothing of numbers that are no force.
      capacityN: isForce ? (capacityN ?? rig?.cell.capacityN ?? null) : null,
      strokeMm: rig?.strokeMm ?? null,
    },
  })
}

const inCounts = (rig: Rig | null) => ({
  code: 'counts-not-calibrated',
  text: `The log is in raw counts of the converter, and ${rig === null ? 'no rig is named' : `${rig.name} has no calibration of counts for it`}: its figures are counts, no forces. With a calibration of the rig, or one known mass, they become forces.`,
})

const bare = (recording: Recording): Pick<RigApplied, 'recording' | 'scale' | 'warnings'> => ({
  recording,
  scale: null,
  warnings: [],
})

/** The day of a specimen's pull: as a person told it, else that on which its first recording began. */
export const dayOfPull = (
  pulledOn: string | null,
  [first]: readonly { readonly startedAt: string | null }[],
): string | null => pulledOn ?? first?.startedAt?.slice(0, 10) ?? null

/** The rig of a specimen, and the calibration chosen of it: those of the first of its recordings of which a rig is told. */
export function rigOfEntries(
  entries: readonly { readonly rigId: string | null; readonly calibration: string | null }[],
): { readonly rigId: string | null; readonly calibration: string | null } {
  const { rigId = null, calibration = null } = entries.find(entry => entry.rigId !== null) ?? {}
  return { rigId, calibration }
}

/** What the operator said that the cell may read when these logs were recorded, as their options keep it. */
export function toldCapacityN(logOptions: readonly object[]): number | null {
  for (const options of logOptions)
    if ('capacityN' in options && typeof options.capacityN === 'number') return options.capacityN
  return null
}

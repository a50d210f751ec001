import { applyRig, type RigApplied } from '../../core/calibration/applyRig.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import { joinRecordings } from '../joinRecordings.ts'

/** The logs of a specimen as one recording, in newton by its rig. */
export interface SpecimenRecording {
  readonly recording: Recording
  readonly scale: RigApplied['scale']
  readonly rigWarnings: RigApplied['warnings']
  readonly limits: { readonly capacityN: number | null; readonly strokeMm: number | null }
}

/** These recordings, in this order, as one; the rig that they were made on, where it is known, gives the scale. */
export function specimenRecording(
  recordings: readonly Recording[],
  rig: Rig | null,
  /** Day of the first recording (ISO 8601), for the age of the calibration. */
  day?: string,
): Outcome<SpecimenRecording> {
  const joined = joinRecordings(recordings)
  if (!joined.ok) return joined
  if (rig === null)
    return fine({
      recording: joined.value,
      scale: null,
      rigWarnings: [],
      limits: { capacityN: null, strokeMm: null },
    })
  const applied = applyRig(joined.value, rig, day)
  if (!applied.ok) return applied
  const { recording, scale, warnings } = applied.value
  return fine({
    recording,
    scale,
    rigWarnings: warnings,
    limits: { capacityN: rig.cell.capacityN ?? null, strokeMm: rig.strokeMm ?? null },
  })
}

import { fine, type Outcome } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import { type SpecimenRecording, specimenRecording } from '../../logs/index.ts'
import type { SpecimenSource } from './types.ts'

/** A specimen's recordings as one, in newton by its rig. `samplesOf` fetches each from where studies are kept. */
export async function loadSpecimen(
  { recordingIds, rig, day, calibration, capacityN, isPractice }: SpecimenSource,
  samplesOf: (recordingId: string) => Promise<Recording>,
): Promise<Outcome<SpecimenRecording>> {
  // Only a rig's document is checked by its schema here: the checker is loaded once there is one.
  const parsed = rig
    ? (await import('../../core/calibration/rig.ts')).parseRig(
        JSON.stringify(rig.document),
        `rig “${rig.name}”`,
      )
    : fine(null)
  if (!parsed.ok) return parsed
  const recordings: Recording[] = []
  for (const id of recordingIds) recordings.push(await samplesOf(id))
  return specimenRecording({ recordings, rig: parsed.value, day, calibration, capacityN, isPractice })
}

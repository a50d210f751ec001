import { checksIn } from '../core/calibration/checkDocument.ts'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { TimeLine } from '../core/statistics/timeLine/document.ts'
import {
  type ControlSpecimen,
  rigOfControl,
  timeLineOfControl,
} from '../core/statistics/timeLine/ofStudies.ts'
import { keptReading } from '../core/statistics/timeLine/readAgain.ts'
import type { RecordingEntry, Store } from '../store/index.ts'
import { compareStudy, firstRecordings } from './compareStudy.ts'

/** The time line of a study's control variant, or of the one named. Problems: no such study, no such variant. */
export async function timeLineOfStudy(
  store: Store,
  studyId: string,
  control: string | null,
): Promise<Outcome<TimeLine>> {
  const comparison = await compareStudy(store, studyId, { quantity: 'peakForce', seed: 1 })
  if (!comparison.ok) return comparison
  const variants = await store.variants.list(studyId)
  const variant = variants.find(one => (control === null ? one.control : one.name === control))
  if (variant === undefined)
    return wrong({
      where: control ?? 'the study',
      what: control === null ? 'no variant is marked as control.' : 'the study has no variant of that name.',
      cure: `Mark one in Plan, or name it: ${variants.map(({ name }) => name).join(', ') || 'it has none yet'}.`,
    })
  const first = await firstRecordings(store, studyId)
  const kept: ControlSpecimen[] = []
  for (const { id, name, variantId } of await store.specimens.list(studyId))
    if (variantId === variant.id)
      kept.push({
        group: variant.name,
        name,
        rigId: rigOf(first.get(id)),
        readings: (await store.readings.history({ specimenId: id })).map(keptReading),
      })
  const rigId = rigOfControl(kept)
  const checks = rigId === null ? [] : checksIn((await store.checks.list(rigId)).map(one => one.document))
  return fine(timeLineOfControl(comparison.value, { control: variant.name, kept, checks }))
}

const rigOf = (entry: RecordingEntry | undefined): string | null => entry?.rigId ?? null

import type { z } from 'zod'
import type { RecordingPlan } from '../../capture/types.ts'
import { fine, type Outcome } from '../../core/problem.ts'
import type { planSchema } from '../requests.ts'
import type { DeskStore } from './deskStore.ts'

/**
 * What the app asked for as a plan of the capture. Where it names the specimen by its id, the labels that the journal
 * keeps and the number of elements are those of the store.
 */
export async function recordingPlan(
  store: DeskStore,
  asked: z.output<typeof planSchema>,
): Promise<Outcome<RecordingPlan>> {
  if (asked.specimenId === null) return fine(asked)
  const specimen = await store.specimens.get(asked.specimenId)
  if (!specimen.ok) return specimen
  const { studyId, variantId, name, elements } = specimen.value
  const study = await store.studies.get(studyId)
  if (!study.ok) return study
  const variant = (await store.variants.list(studyId)).find(({ id }) => id === variantId) ?? null
  return fine({
    ...asked,
    about: {
      study: study.value.name,
      variant: variant?.name ?? null,
      specimen: name,
      operator: asked.about.operator,
    },
    elements: asked.elements ?? elements ?? variant?.elements ?? study.value.elements,
  })
}

/** The specimen that a plan is about, made where the store has none of these names yet; `null`: it names none. */
export async function plannedSpecimen(
  store: DeskStore,
  { specimenId, about: { study, variant, specimen } }: RecordingPlan,
): Promise<Outcome<string | null>> {
  if (specimenId !== null) return fine(specimenId)
  if (study === null || specimen === null) return fine(null)
  const named = await store.specimens.named({ study, variant, specimen })
  return named.ok ? fine(named.value.id) : named
}

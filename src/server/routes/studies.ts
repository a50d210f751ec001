import { changedText } from '../../core/changedText.ts'
import { compareStudy } from '../compareStudy.ts'
import { editSpecimens, readingAnew } from '../editSpecimens.ts'
import {
  changedSpecimenSchema,
  changedStudySchema,
  changedVariantSchema,
  comparisonQuerySchema,
  newSpecimenSchema,
  newStudySchema,
  newVariantSchema,
} from '../requests.ts'
import { answer, given, ok, type Route, route } from '../route.ts'

export const studyRoutes: readonly Route[] = [
  route({
    method: 'GET',
    path: '/api/studies',
    summary: 'All studies, the newest first',
    answers: 'Study[]',
    run: async ({ bench }) => ok(await bench.store.studies.list()),
  }),
  route({
    method: 'POST',
    path: '/api/studies',
    summary: 'A new study',
    answers: 'Study',
    body: newStudySchema,
    run: async ({ bench, body }) => answer(await bench.store.studies.create(given(body))),
  }),
  route({
    method: 'GET',
    path: '/api/studies/:id',
    summary: 'A study with its variants, specimens and their newest readings',
    answers: '{ study: Study, variants: Variant[], specimens: Specimen[], readings: StoredReading[] }',
    async run({ bench: { store }, params }) {
      const id = params.id ?? ''
      const study = await store.studies.get(id)
      if (!study.ok) return answer(study, 404)
      return ok({
        study: study.value,
        variants: await store.variants.list(id),
        specimens: await store.specimens.list(id),
        readings: await store.readings.latestOfStudy(id),
      })
    },
  }),
  route({
    method: 'PATCH',
    path: '/api/studies/:id',
    summary: 'Changes what is given',
    answers: 'Study',
    body: changedStudySchema,
    async run({ bench: { store }, params, body: { basedOn, ...patch } }) {
      const id = params.id ?? ''
      const now = await store.studies.get(id)
      return now.ok
        ? answer(await readingAnew(store, id, () => store.studies.update(id, given(patch), basedOn)))
        : answer(now, 404)
    },
  }),
  route({
    method: 'DELETE',
    path: '/api/studies/:id',
    summary: 'Removes a study that has no recordings',
    answers: 'null',
    run: async ({ bench, params }) => answer(await bench.store.studies.remove(params.id ?? ''), 409),
  }),
  route({
    method: 'GET',
    path: '/api/studies/:id/comparison',
    beside: true,
    summary: 'The comparison of its variants, from the newest reading of each specimen',
    answers: 'Comparison',
    query: comparisonQuerySchema,
    run: async ({ bench, params, query }) =>
      answer(await compareStudy(bench.store, params.id ?? '', given(query))),
  }),
  route({
    method: 'POST',
    path: '/api/studies/:id/variants',
    summary: 'A new variant, last in the order',
    answers: 'Variant',
    body: newVariantSchema,
    run: async ({ bench, params, body }) =>
      answer(await bench.store.variants.create(params.id ?? '', given(body))),
  }),
  route({
    method: 'PATCH',
    path: '/api/variants/:id',
    summary: 'Changes what is given',
    answers: 'Variant',
    body: changedVariantSchema,
    async run({ bench: { store }, params, body: { basedOn, ...patch } }) {
      const id = params.id ?? ''
      const now = await store.variants.get(id)
      const change = () => store.variants.update(id, given(patch), given(basedOn ?? {}))
      return answer(now.ok ? await readingAnew(store, now.value.studyId, change) : now)
    },
  }),
  route({
    method: 'DELETE',
    path: '/api/variants/:id',
    summary: 'Removes a variant; its specimens stay, without one',
    answers: 'null',
    async run({ bench: { store }, params }) {
      const id = params.id ?? ''
      const now = await store.variants.get(id)
      const remove = () => store.variants.remove(id)
      return answer(now.ok ? await readingAnew(store, now.value.studyId, remove) : now, 404)
    },
  }),
  route({
    method: 'POST',
    path: '/api/studies/:id/specimens',
    summary: 'A new specimen',
    answers: 'Specimen',
    body: newSpecimenSchema,
    run: async ({ bench, params, body }) =>
      answer(await bench.store.specimens.create(params.id ?? '', given(body))),
  }),
  route({
    method: 'GET',
    path: '/api/specimens/:id',
    summary: 'A specimen with its recordings and readings',
    answers: '{ specimen: Specimen, recordings: RecordingEntry[], readings: StoredReading[] }',
    async run({ bench: { store }, params }) {
      const id = params.id ?? ''
      const specimen = await store.specimens.get(id)
      if (!specimen.ok) return answer(specimen, 404)
      const { items } = await store.recordings.list({ specimenId: id, withSetAside: true, limit: 1000 })
      return ok({
        specimen: specimen.value,
        recordings: [...items].sort((a, b) => a.place - b.place),
        readings: await store.readings.history({ specimenId: id }),
      })
    },
  }),
  route({
    method: 'PATCH',
    path: '/api/specimens/:id',
    summary: 'Changes what is given',
    answers: 'Specimen',
    body: changedSpecimenSchema,
    async run({ bench: { store }, params, body: { basedOn, who, ...patch } }) {
      const id = params.id ?? ''
      const now = await store.specimens.get(id)
      if (!now.ok) return answer(now, 404)
      const { studyId, name } = now.value
      const fields = given(patch)
      const step = {
        kind: 'change',
        specimenId: id,
        fields,
        ...(basedOn === undefined ? {} : { basedOn }),
      } as const
      const edit = await editSpecimens(store, studyId, [step], {
        who: who ?? '',
        what: changedText(name, fields),
      })
      return edit.ok ? answer(await store.specimens.get(id)) : answer(edit)
    },
  }),
  route({
    method: 'DELETE',
    path: '/api/specimens/:id',
    summary: 'Removes a specimen that has no recordings',
    answers: 'null',
    run: async ({ bench, params }) => answer(await bench.store.specimens.remove(params.id ?? ''), 409),
  }),
]

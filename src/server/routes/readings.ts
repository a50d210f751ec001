import { adjustedSchema, keptReadingSchema } from '../requests.ts'
import type { Bench } from '../route.ts'
import { answer, type Route, refused, route } from '../route.ts'
import { keepReading, previewReading } from '../specimenReading.ts'
import { LARGE, waitForRecording } from './recordings.ts'

export const readingRoutes: readonly Route[] = [
  route({
    method: 'POST',
    path: '/api/specimens/:id/reading/preview',
    beside: true,
    summary: 'How it would read with these adjustments; nothing is kept',
    answers: 'Reading',
    body: adjustedSchema,
    async run({ bench, params, body }) {
      const busy = await tooLarge(bench, params.id ?? '')
      if (busy) return refused(409, [busy])
      return answer(
        await previewReading(bench.store, params.id ?? '', body.adjustments),
        422,
        ({ reading }) => reading,
      )
    },
  }),
  route({
    method: 'POST',
    path: '/api/specimens/:id/reading',
    beside: true,
    summary: 'Reads it with these adjustments and keeps the reading, before the older ones',
    answers: 'StoredReading',
    body: keptReadingSchema,
    async run({ bench, params, body }) {
      const busy = await tooLarge(bench, params.id ?? '')
      if (busy) return refused(409, [busy])
      return answer(await keepReading(bench.store, params.id ?? '', body.adjustments, body.basedOn))
    },
  }),
  route({
    method: 'GET',
    path: '/api/readings/:id',
    summary: 'A reading as it was kept',
    answers: 'StoredReading',
    run: async ({ bench, params }) => answer(await bench.store.readings.get(params.id ?? ''), 404),
  }),
]

async function tooLarge({ store, desk }: Bench, specimenId: string) {
  if (!desk.recording) return null
  const { items } = await store.recordings.list({ specimenId, limit: 1000 })
  const samples = items.reduce((sum, entry) => sum + entry.samples, 0)
  return samples > LARGE ? waitForRecording(items[0]?.name ?? '') : null
}

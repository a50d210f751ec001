import { z } from 'zod'
import type { Pyramid } from '../../core/signal/pyramid.ts'
import { buildPyramid, sliceForDisplay } from '../../core/signal/pyramid.ts'
import { withoutEnding } from '../../core/withoutEnding.ts'
import { recordingBlock, writeCsvInBlocks, writeJsonLinesInBlocks, writeParquet } from '../../logs/index.ts'
import type { Store } from '../../store/index.ts'
import { curveQuerySchema, placementSchema, recordingQuerySchema, whySchema } from '../requests.ts'
import { answer, given, ok, type Route, refused, route } from '../route.ts'
import { withoutNaN } from './logs.ts'

/** A stretch of a recording's force, thinned so that no extreme is lost. `null` breaks the line. */
export interface Curve {
  readonly timeS: readonly number[]
  readonly forceN: readonly (number | null)[]
}

/** Recordings whose pyramids are kept for the next look: zooming asks for one again and again. */
const KEPT_PYRAMIDS = 4

export function recordingRoutes(): readonly Route[] {
  const pyramids = new Map<string, Pyramid>()

  async function pyramidOf(store: Store, id: string) {
    const kept = pyramids.get(id)
    if (kept) return { ok: true, value: kept } as const
    const loaded = await store.recordings.load(id)
    if (!loaded.ok) return loaded
    const pyramid = buildPyramid(loaded.value.timeS, loaded.value.forceN)
    pyramids.set(id, pyramid)
    const [oldest] = pyramids.keys()
    if (pyramids.size > KEPT_PYRAMIDS && oldest !== undefined) pyramids.delete(oldest)
    return { ok: true, value: pyramid } as const
  }

  return [
    route({
      method: 'GET',
      path: '/api/recordings',
      summary: 'Recordings, the newest first, in pages',
      answers: 'Page<RecordingEntry>',
      query: recordingQuerySchema,
      run: async ({ bench, query }) => ok(await bench.store.recordings.list(given(query))),
    }),
    route({
      method: 'GET',
      path: '/api/recordings/:id',
      summary: 'A recording, without its samples, and the readings that used it',
      answers: '{ entry: RecordingEntry, readings: StoredReading[] }',
      async run({ bench: { store }, params }) {
        const entry = await store.recordings.get(params.id ?? '')
        if (!entry.ok) return answer(entry, 404)
        const readings = await store.readings.history({ recordingId: entry.value.id })
        return ok({ entry: entry.value, readings })
      },
    }),
    route({
      method: 'GET',
      path: '/api/recordings/:id/curve',
      beside: true,
      summary: 'Its force over time, or a stretch of it, thinned to a width in pixels',
      answers: 'Curve',
      query: curveQuerySchema,
      async run({ bench: { store, desk }, params, query }) {
        const entry = await store.recordings.get(params.id ?? '')
        if (!entry.ok) return answer(entry, 404)
        if (desk.recording && entry.value.samples > LARGE)
          return refused(409, [waitForRecording(entry.value.name)])
        const pyramid = await pyramidOf(store, entry.value.id)
        if (!pyramid.ok) return answer(pyramid)
        const { timeS } = pyramid.value
        const { fromS = timeS[0] ?? 0, toS = timeS.at(-1) ?? 0, pixels } = query
        const curve = sliceForDisplay(pyramid.value, fromS, toS, pixels)
        return ok({ timeS: Array.from(curve.timeS), forceN: withoutNaN(curve.value) } satisfies Curve)
      },
    }),
    route({
      method: 'GET',
      path: '/api/recordings/:id/samples',
      beside: true,
      summary: 'All its samples and channels as one block of doubles, for the app',
      answers: 'a block',
      async run({ bench: { store, desk }, params }) {
        const entry = await store.recordings.get(params.id ?? '')
        if (!entry.ok) return answer(entry, 404)
        if (desk.recording && entry.value.samples > LARGE)
          return refused(409, [waitForRecording(entry.value.name)])
        const loaded = await store.recordings.load(entry.value.id)
        if (!loaded.ok) return answer(loaded)
        return { status: 200, type: 'application/octet-stream', body: recordingBlock(loaded.value) }
      },
    }),
    route({
      method: 'GET',
      path: '/api/recordings/:id/export',
      beside: true,
      summary: 'Its samples as a file, or the log as received',
      answers: 'a file',
      query: z.strictObject({ as: z.enum(['csv', 'jsonl', 'parquet', 'log']).default('csv') }),
      async run({ bench: { store, desk }, params, query }) {
        const entry = await store.recordings.get(params.id ?? '')
        if (!entry.ok) return answer(entry, 404)
        const { id, name, samples } = entry.value
        if (desk.recording && samples > LARGE) return refused(409, [waitForRecording(name)])
        const stem = withoutEnding(name)
        if (query.as === 'log')
          return {
            status: 200,
            type: 'application/octet-stream',
            body: store.recordings.log(id),
            fileName: name,
          }
        if (query.as === 'parquet') {
          const loaded = await store.recordings.load(id)
          if (!loaded.ok) return answer(loaded)
          const body = await writeParquet(loaded.value)
          return { status: 200, type: 'application/vnd.apache.parquet', body, fileName: `${stem}.parquet` }
        }
        const found = await store.recordings.inChunks(id)
        if (!found.ok) return answer(found)
        const { head, blocks } = found.value
        return query.as === 'csv'
          ? {
              status: 200,
              type: 'text/csv; charset=utf-8',
              body: writeCsvInBlocks(head, blocks()),
              fileName: `${stem}.csv`,
            }
          : {
              status: 200,
              type: 'application/x-ndjson',
              body: writeJsonLinesInBlocks(head, blocks()),
              fileName: `${stem}.jsonl`,
            }
      },
    }),
    route({
      method: 'PUT',
      path: '/api/recordings/:id/place',
      summary: 'Puts it on a specimen, or on none',
      answers: 'RecordingEntry',
      body: placementSchema,
      run: async ({ bench, params, body }) =>
        answer(await bench.store.recordings.place(params.id ?? '', body.specimenId, body.place)),
    }),
    route({
      method: 'POST',
      path: '/api/recordings/:id/set-aside',
      summary: 'Keeps it out of lists and figures; it is never deleted',
      answers: 'RecordingEntry',
      body: whySchema,
      run: async ({ bench, params, body }) =>
        answer(await bench.store.recordings.setAside(params.id ?? '', body.why)),
    }),
    route({
      method: 'POST',
      path: '/api/recordings/:id/take-back',
      summary: 'Takes back that it was set aside',
      answers: 'RecordingEntry',
      run: async ({ bench, params }) => answer(await bench.store.recordings.takeBack(params.id ?? '')),
    }),
  ]
}

/** Samples from which work on a recording would hold up a capture in this process for longer than a blink. */
export const LARGE = 500_000

export const waitForRecording = (name: string) => ({
  where: name,
  what: 'it is too long to be worked on while a recording runs.',
  cure: 'Finish the recording first.',
})

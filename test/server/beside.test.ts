import { mkdir, mkdtemp, readdir, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { NO_PLAN, openSession } from '../../src/capture/index.ts'
import { beside } from '../../src/server/beside/beside.ts'
import type { Answer, Bench, Route } from '../../src/server/route.ts'
import { allRoutes } from '../../src/server/table.ts'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'
import { handSource } from '../capture/handSource.ts'
import { bundled } from '../faults/bundle.ts'
import { good } from '../store/stores.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
let folder = ''
let store: Store
let heavy: ReturnType<typeof beside>
beforeAll(async () => {
  // Within the project, so that the native modules are found.
  const within = join(root, 'node_modules', '.tenterhook-test')
  await mkdir(within, { recursive: true })
  folder = await mkdtemp(join(within, 'beside-'))
  const script = await bundled('../../src/server/beside/thread.ts', folder)
  store = await openStore(good(storePlace(join(folder, 'store'), {})))
  heavy = beside(store, pathToFileURL(script))
})
afterAll(async () => {
  await heavy.stop()
  await store.close()
  await rm(folder, { recursive: true, force: true })
})

const routes = allRoutes()
const routeOf = (method: Route['method'], path: string): Route => {
  const route = routes.find(one => one.method === method && one.path === path)
  if (!route) throw new Error(path)
  expect(route.beside).toBe(true)
  return route
}
test('a journal is taken in there: the recording with its reading, on its specimen; the journal stays with who asked', async () => {
  const journals = join(folder, 'journals')
  const line = handSource()
  const session = good(await openSession({ source: line, journals, makes: 'none' }))
  const about = { study: 'Taken in', variant: null, specimen: 'b 1', operator: null }
  good(await session.start({ ...NO_PLAN, about }))
  line.say('time_ms,force_N\n')
  for (let i = 0; i < 600; i++) line.say(`${i * 10},${i < 200 || i > 400 ? 0 : (i - 200) / 4}\n`)
  const ended = good(await session.finish())
  await session.close()
  expect(ended).toMatchObject({ recording: null, samples: 600 })
  expect(ended.keeping.heldBytes).toBe(0)
  const taken = good(await heavy.takeIn!(ended.keeping.path, 'finished'))
  expect(taken).toMatchObject({ isNew: true, problems: [], entry: { samples: 600, state: 'complete' } })
  expect(taken.entry.specimen?.name).toBe('b 1')
  expect(good(taken.reading).results.peakForce.valueN).toBeCloseTo(50, 0)
  // Asked again, as after a journal that could not be removed: nothing is stored twice.
  expect(good(await heavy.takeIn!(ended.keeping.path, 'recovered')).isNew).toBe(false)
  expect(await readdir(journals)).toHaveLength(1)
})

/** The bench of the main thread has a line, which must not be sent across. */
const bench = { store: null, desk: { open: () => {} } } as unknown as Bench
const run = (
  method: Route['method'],
  path: string,
  params: Record<string, string> = {},
  query: unknown = {},
  body: unknown = null,
): Promise<Answer> => heavy.run(routeOf(method, path), { bench, params, query, body })

const log = (samples: number): Uint8Array =>
  new TextEncoder().encode(
    `time_s,force_N\n${Array.from({ length: samples }, (_, i) => `${i / 100},${(i % 700) / 10}\n`).join('')}`,
  )
async function bytesOf(body: unknown): Promise<Uint8Array> {
  const parts: Uint8Array[] = []
  for await (const part of body as AsyncIterable<Uint8Array | string>)
    parts.push(typeof part === 'string' ? Buffer.from(part) : part)
  return Buffer.concat(parts)
}

test('what is done beside is in the store that the server has open, and answers as it would here', async () => {
  const study = good(await store.studies.create({ name: 'Beside' }))
  const specimen = good(await store.specimens.create(study.id, { name: 'a' }))
  const kept = await run(
    'POST',
    '/api/recordings',
    {},
    { name: 'a.csv', specimenId: specimen.id },
    log(3_000),
  )
  expect(kept.status).toBe(200)
  const { entry, isNew } = kept.body as { entry: { id: string; samples: number }; isNew: boolean }
  expect({ isNew, samples: entry.samples }).toEqual({ isNew: true, samples: 3_000 })
  expect(good(await store.recordings.get(entry.id)).samples).toBe(3_000)
  expect(await store.readings.history({ specimenId: specimen.id })).toHaveLength(1)
  const read = good(await heavy.readSpecimen(specimen.id))
  const history = await store.readings.history({ specimenId: specimen.id })
  expect(history).toHaveLength(2)
  expect(read).toEqual(history[0]?.reading)

  const exported = await run('GET', '/api/recordings/:id/export', { id: entry.id }, { as: 'csv' })
  expect(exported).toMatchObject({ status: 200, type: 'text/csv; charset=utf-8', fileName: 'a.csv' })
  expect((await bytesOf(exported.body)).toString().split('\n')).toHaveLength(3_002)

  const packed = await run(
    'GET',
    '/api/studies/:id/package',
    { id: study.id },
    { licence: 'none', author: '' },
  )
  const zip = await bytesOf(packed.body)
  expect([...zip.subarray(0, 2)]).toEqual([0x50, 0x4b])

  const nobody = await run('GET', '/api/studies/:id/comparison', { id: 'nobody' }, { quantity: 'peakForce' })
  expect(nobody).toMatchObject({ status: 422, body: { problems: [{ where: 'study “nobody”' }] } })
})

test('a body that nobody waits for any more ends, and the next question is answered', async () => {
  const { items } = await store.recordings.list({})
  const exported = await run('GET', '/api/recordings/:id/export', { id: items[0]?.id ?? '' }, { as: 'jsonl' })
  for await (const _ of exported.body as AsyncIterable<string>) break
  expect((await run('POST', '/api/logs/preview', {}, { name: 'b.csv' }, log(20))).status).toBe(200)
})

test('a fault in the thread is a fault here, and it works on', async () => {
  await expect(run('POST', '/api/logs/preview', {}, null, log(5))).rejects.toThrow()
  expect((await run('POST', '/api/logs/preview', {}, { name: 'b.csv' }, log(20))).status).toBe(200)
})

test('a recording that runs is read from its journal', async () => {
  const line = handSource()
  const session = good(await openSession({ source: line, journals: join(folder, 'running') }))
  await session.start(NO_PLAN)
  line.say('time_ms,force_N\n')
  for (let i = 0; i < 500; i++) line.say(`${i * 10},${(i < 100 || i > 400 ? 0 : (i - 100) / 5).toFixed(2)}\n`)
  const read = good(await heavy.readJournal(good(await session.soFar()).journal))
  expect(read.endS).toBeCloseTo(4.99, 6)
  expect(good(read.reading).results.peakForce.valueN).toBeCloseTo(60, 0)
  await session.finish()
  await session.close()
})

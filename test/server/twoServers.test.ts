import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { type RunningServer, startServer } from '../../src/server/index.ts'
import type { Specimen, Study } from '../../src/store/index.ts'
import { openStore, type Store, storePlace } from '../../src/store/index.ts'
import { good } from '../store/stores.ts'
import { ask, json, type Running, running } from './running.ts'

/** Two servers on one store, as where someone starts the program twice. */

let first: Running
let store: Store
let second: RunningServer
const faults: unknown[] = []
beforeAll(async () => {
  first = await running()
  store = await openStore(good(storePlace(join(first.folder, 'store'), {})))
  second = good(
    await startServer({
      store,
      port: 0,
      lan: false,
      webFolder: null,
      onTrouble: problems => faults.push(...problems),
      onFault: (_, error) => faults.push(error),
    }),
  )
})
afterAll(async () => {
  await second.stop()
  await store.close()
  await first.stop()
})

async function asked<T>(server: RunningServer, method: string, path: string, options = {}): Promise<T> {
  const { status, text } = await ask(server, method, path, options)
  if (status !== 200) throw new Error(`${status} ${text}`)
  return JSON.parse(text) as T
}

test('what one keeps the other shows; both at once lose nothing; the later of two edits is told', async () => {
  const study = await asked<Study>(first.server, 'POST', '/api/studies', json({ name: 'Shared' }))
  const body = await readFile(new URL('../records/brittle-1.csv', import.meta.url))
  const headers = { 'content-type': 'application/octet-stream' }
  const keptBy = async (at: RunningServer, name: string) => {
    const made = await asked<Specimen>(at, 'POST', `/api/studies/${study.id}/specimens`, json({ name }))
    const log = Buffer.concat([body, Buffer.from(`# ${name}\n`)])
    await asked(at, 'POST', `/api/recordings?name=${name}.csv&specimenId=${made.id}`, { headers, body: log })
  }
  const names = Array.from({ length: 12 }, (_, i) => `s${i}`)
  await Promise.all(names.map((name, i) => keptBy(i % 2 === 0 ? first.server : second, name)))
  for (const server of [first.server, second]) {
    const open = await asked<{ specimens: Specimen[]; readings: object[] }>(
      server,
      'GET',
      `/api/studies/${study.id}`,
    )
    expect(open.specimens.map(({ name }) => name).sort()).toEqual([...names].sort())
    expect(open.readings.length).toBe(names.length)
  }
  const patch = (at: RunningServer, question: string) =>
    ask(at, 'PATCH', `/api/studies/${study.id}`, json({ question, basedOn: study.updatedAt }))
  const answers = await Promise.all([patch(first.server, 'Which holds?'), patch(second, 'Which tears?')])
  expect(answers.map(({ status }) => status).sort()).toEqual([200, 409])
  expect([...faults, ...first.faults]).toEqual([])
})

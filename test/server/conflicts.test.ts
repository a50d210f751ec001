import { readFile } from 'node:fs/promises'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { ask, json, type Running, running } from './running.ts'

let run: Running
beforeAll(async () => {
  run = await running({})
})
afterAll(() => run.stop())

const send = (method: string, path: string, body: unknown) =>
  ask(run.server, method, path, body === undefined ? {} : json(body))

async function made<T>(method: string, path: string, body: unknown): Promise<T> {
  const { status, text } = await send(method, path, body)
  if (status !== 200) throw new Error(`${status} ${text}`)
  return JSON.parse(text) as T
}

test('the later of two edits of one study is told, and writes nothing', async () => {
  const study = await made<{ id: string; updatedAt: string }>('POST', '/api/studies', { name: 'Two windows' })
  await new Promise(resolve => setTimeout(resolve, 5))
  const path = `/api/studies/${study.id}`
  await made('PATCH', path, { question: 'first?', basedOn: study.updatedAt })
  const late = await send('PATCH', path, { question: 'second?', basedOn: study.updatedAt })
  expect(late.status).toBe(409)
  expect(late.headers['x-conflict']).toBe('changed')
  expect(JSON.parse(late.text).problems[0].what).toContain('changed elsewhere')
  const open = await made<{ study: { question: string } }>('GET', path, undefined)
  expect(open.study.question).toBe('first?')
  // Written over on purpose: without naming what it is based on.
  expect(await made('PATCH', path, { question: 'second?' })).toMatchObject({ question: 'second?' })
})

test('so is the later of two edits of a specimen and of its reading', async () => {
  const study = await made<{ id: string }>('POST', '/api/studies', { name: 'Two readings' })
  const specimen = await made<{ id: string; updatedAt: string }>(
    'POST',
    `/api/studies/${study.id}/specimens`,
    { name: 'one' },
  )
  await new Promise(resolve => setTimeout(resolve, 5))
  const path = `/api/specimens/${specimen.id}`
  await made('PATCH', path, { note: 'a', basedOn: specimen.updatedAt })
  expect((await send('PATCH', path, { note: 'b', basedOn: specimen.updatedAt })).status).toBe(409)

  const log = await readFile(new URL('../records/brittle-1.csv', import.meta.url))
  const kept = await ask(run.server, 'POST', `/api/recordings?name=s.csv&specimenId=${specimen.id}`, {
    body: log,
    headers: { 'content-type': 'application/octet-stream' },
  })
  const first = JSON.parse(kept.text).reading.id
  const elements = {
    kind: 'elements',
    id: 'a',
    who: 'me',
    when: '2026-05-04T14:20:00Z',
    why: 'counted',
    count: 8,
  }
  const second = await made<{ id: string }>('POST', `${path}/reading`, {
    adjustments: [elements],
    basedOn: first,
  })
  expect((await send('POST', `${path}/reading`, { adjustments: [], basedOn: first })).status).toBe(409)
  await made('POST', `${path}/reading`, { adjustments: [], basedOn: second.id })
})

import { afterAll, beforeAll, expect, test } from 'vitest'
import { ask, type Running, running } from './running.ts'

let run: Running
beforeAll(async () => {
  run = await running()
})
afterAll(() => run.stop())

const rows = (row: (i: number) => string): string => Array.from({ length: 40 }, (_, i) => row(i)).join('\n')

test('a log whose second header names other columns is looked at and kept as it is read', async () => {
  const body = `time_s,force_N\n${rows(i => `${i / 10},${i}`)}\ntime_s,force_kN\n${rows(i => `${4 + i / 10},${i / 500}`)}\n`
  const headers = { 'content-type': 'application/octet-stream' }
  const looked = await ask(run.server, 'POST', '/api/logs/preview?name=two.csv', { body, headers })
  expect(looked.status).toBe(200)
  expect(JSON.parse(looked.text)).toMatchObject({
    samples: 80,
    forceUnit: 'N',
    assumptions: [{ code: 'layout-changes' }],
  })
  const spoiled = await ask(run.server, 'POST', '/api/logs/preview?name=err.csv', {
    body: body.replace('2,20', 'ERR 2 20'),
    headers,
  })
  expect(JSON.parse(spoiled.text).assumptions).toContainEqual(
    expect.objectContaining({
      code: 'lines-not-read',
      lines: { count: 1, first: [{ line: 22, text: 'ERR 2 20' }] },
    }),
  )
  const kept = await ask(run.server, 'POST', '/api/recordings?name=two.csv', { body, headers })
  expect(kept.status).toBe(200)
  expect(run.faults).toEqual([])
})

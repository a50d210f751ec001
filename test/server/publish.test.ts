import { readFile } from 'node:fs/promises'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { readLog } from '../../src/logs/index.ts'
import { keepReading } from '../../src/server/specimenReading.ts'
import { good } from '../store/stores.ts'
import { ask, type Running, running } from './running.ts'

let run: Running
let id = ''
beforeAll(async () => {
  run = await running()
  const { store } = run
  for (const name of ['tabs-1', 'tabs-2', 'brittle-1', 'brittle-2']) {
    const log = await readFile(new URL(`../records/${name}.csv`, import.meta.url))
    const specimen = good(
      await store.specimens.named({ study: 'Tabs & <b>', variant: name.slice(0, -2), specimen: name }),
    )
    good(
      await store.recordings.save({
        recording: good(readLog(log, `${name}.csv`)),
        log,
        source: 'log',
        specimenId: specimen.id,
      }),
    )
    good(await keepReading(store, specimen.id))
    good(await store.specimens.update(specimen.id, { operator: 'Ada Lindner' }))
    id = specimen.studyId
  }
}, 60_000)
afterAll(async () => run.stop())

const get = (path: string) => ask(run.server, 'GET', path)

test('the report as a file, never as a page of ours', async () => {
  const { status, headers, text } = await get(`/api/studies/${id}/report`)
  expect(status).toBe(200)
  expect(headers['content-disposition']).toBe("attachment; filename*=UTF-8''tabs-b.html")
  expect(text).toContain('<h1>Tabs &#38; &#60;b&#62;</h1>')
  expect(text).toContain('Ada Lindner')
  expect(text.trimEnd().endsWith('</html>')).toBe(true)
})

test('its people as initials, and some of its parts, where asked so', async () => {
  const { text } = await get(`/api/studies/${id}/report?initials=true&sections=specimens,answer`)
  expect(text).not.toContain('Lindner')
  expect(text).toContain('A. L.')
  expect([...text.matchAll(/<h2 id="(\w+)"/g)].map(([, name]) => name)).toEqual(['specimens', 'answer'])
})

test('the answer alone on one page', async () => {
  const { headers, text } = await get(`/api/studies/${id}/report?page=answer`)
  expect(headers['content-disposition']).toBe("attachment; filename*=UTF-8''tabs-b-answer.html")
  expect(text).toContain('not for rating gear')
  expect(text).not.toContain('SHA-256')
  expect((await get(`/api/studies/${id}/report?page=leaf`)).status).toBe(422)
})

test('Markdown with its pictures in a zip', async () => {
  const { status, headers, bytes } = await get(`/api/studies/${id}/report?as=md&sections=answer`)
  expect(status).toBe(200)
  expect(headers['content-type']).toBe('application/zip')
  expect(bytes.subarray(0, 4).toString('latin1')).toBe('PK\u0003\u0004')
  expect(bytes.toString('latin1')).toContain('report-figures/dots.png')
})

test('figures as SVG and as PNG in the shape that is asked for', async () => {
  const svg = await get(`/api/studies/${id}/figures/dots?look=dark&shape=upright`)
  expect(svg.headers['content-type']).toBe('image/svg+xml')
  expect(svg.text).toContain('width="480" height="600"')
  const png = await get(`/api/studies/${id}/figures/pull?as=png&shape=square&specimen=tabs-2`)
  expect([png.bytes.readUInt32BE(16), png.bytes.readUInt32BE(20)]).toEqual([1080, 1080])
})

test.each([
  ['a study that is not there', () => '/api/studies/none/report', 404],
  ['a figure that there is none of', () => `/api/studies/${id}/figures/pie`, 404],
  ['a figure of what is not there', () => `/api/studies/${id}/figures/calibration`, 404],
  ['a specimen that is not there', () => `/api/studies/${id}/figures/pull?specimen=x`, 404],
  ['a part that there is none of', () => `/api/studies/${id}/report?sections=answer,secrets`, 422],
  ['an ending that there is none of', () => `/api/studies/${id}/report?as=doc`, 422],
])('%s is told', async (_, path, status) => {
  const answer = await get(path())
  expect(answer.status).toBe(status)
  expect(JSON.parse(answer.text).problems[0].what).toBeTypeOf('string')
})

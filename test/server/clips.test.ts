import { execFileSync } from 'node:child_process'
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { readLog } from '../../src/logs/index.ts'
import { placedByHand } from '../../src/publish/sync/place.ts'
import { keepReading } from '../../src/server/specimenReading.ts'
import { good } from '../store/stores.ts'
import { ask, type Running, running } from './running.ts'

let run: Running
let id = ''
let folder = ''
const asked = {
  width: 128,
  height: 72,
  dark: true,
  ground: 'plate',
  rate: '10',
  times: null,
}
let sync: object
beforeAll(async () => {
  run = await running()
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-clips-'))
  const log = await readFile(new URL('../records/tabs-1.csv', import.meta.url))
  const { store } = run
  const specimen = good(await store.specimens.named({ study: 'Tabs', variant: 'tabs', specimen: 'tabs-1' }))
  const recording = good(readLog(log, 'tabs-1.csv'))
  const { sha256 } = good(
    await store.recordings.save({ recording, log, source: 'log', specimenId: specimen.id }),
  ).entry
  good(await keepReading(store, specimen.id))
  id = specimen.studyId
  sync = {
    document: 'tenterhook.sync',
    version: 1,
    clip: { name: 'film.mp4', lengthS: 1, transients: 0 },
    placements: [placedByHand({ ...recording, sha256 }, -2)],
    notPlaced: [],
  }
}, 60_000)
afterAll(async () => {
  await run.stop()
  await rm(folder, { recursive: true, force: true })
})

const overlay = (body: object, study = id) =>
  ask(run.server, 'POST', `/api/studies/${study}/overlay`, {
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  })

test('QuickTime with alpha comes after the lines that tell how far it is', async () => {
  const { status, bytes, headers } = await overlay({ ...asked, sync })
  expect(status).toBe(200)
  expect(headers['content-disposition']).toContain('tabs-overlay.mov')
  const told = /\{"bytes":(\d+)\}\n/.exec(bytes.toString('latin1'))!
  const film = bytes.subarray(told.index + told[0].length)
  expect(film.length).toBe(Number(told[1]))
  const path = join(folder, 'overlay.mov')
  await writeFile(path, film)
  const facts = execFileSync('ffprobe', [
    ...['-v', 'error', '-count_frames', '-of', 'csv=p=0'],
    ...['-show_entries', 'stream=codec_name,width,height,pix_fmt,nb_read_frames', path],
  ]).toString()
  expect(facts.trim()).toMatch(/^prores,128,72,yuva444p\d+le,10$/)
}, 60_000)

test('says whether it can make QuickTime', async () => {
  const { text } = await ask(run.server, 'GET', '/api/clips')
  expect(JSON.parse(text)).toEqual({ quickTime: true })
})

test('what cannot be made is told', async () => {
  const nowhere = await overlay({ ...asked, sync: { ...sync, placements: [] } })
  expect(nowhere.status).toBe(422)
  expect(nowhere.text).toContain('none of the recordings is placed in it')
  const rate = await overlay({ ...asked, sync, rate: 'fast' })
  expect(rate.text).toContain('“fast” is none')
  expect((await overlay({ ...asked, sync, width: 1 })).status).toBe(422)
  expect((await overlay({ ...asked, sync }, 'nothing')).status).toBe(404)
}, 60_000)

import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { beforeAll, expect, test } from 'vitest'
import { readSpecimen } from '../../src/logs/index.ts'
import { openText } from '../../src/publish/package/recomputed.ts'
import { isSound, verifyPackage } from '../../src/publish/package/verifyPackage.ts'
import { reportOf } from '../../src/publish/report/report.ts'
import { filmsFrom } from '../../src/publish/study/films.ts'
import { USUAL_PAGE } from '../../src/publish/study/page.ts'
import type { PublishedLog, PublishedStudy } from '../../src/publish/study/study.ts'
import type { Sync } from '../../src/publish/sync/document.ts'
import { placedByHand } from '../../src/publish/sync/place.ts'
import { importPackage } from '../../src/server/importPackage/importPackage.ts'
import { openRaw } from '../../src/server/openRaw.ts'
import { publishedStudy } from '../../src/server/publishedStudy.ts'
import { madeLog, madeSpecimen, madeStudy, PAGE, sha256 } from '../publish/package/madeStudy.ts'
import { type Files, filesOf, sourceOf } from '../publish/package/sources.ts'
import { good, inFolder, openAt } from '../store/stores.ts'

const JOURNAL = new Uint8Array(
  readFileSync(join(import.meta.dirname, '../capture/journal/version-2.journal')),
)

let files: Files
let log: PublishedLog
beforeAll(async () => {
  log = {
    name: 'live pull',
    sha256: await sha256(JOURNAL),
    byteLength: JOURNAL.length,
    source: 'live',
    startedAt: '2026-05-04T10:00:00.000Z',
    options: {},
    bytes: async () => JOURNAL,
  }
  const plain = madeSpecimen({ name: 'live', variant: null, logs: [{ name: 'a.csv', bytes: madeLog(20) }] })
  const { recording, reading } = good(
    readSpecimen({
      recordings: [good(openRaw(JOURNAL, log))],
      rig: null,
      day: null,
      calibration: null,
      capacityN: null,
      isPractice: false,
      facts: plain.reading!.specimen,
      adjustments: [],
    }),
  )
  const specimen = { ...plain, logs: [log], recording, reading, pulledAt: log.startedAt }
  const study: PublishedStudy = madeStudy({ specimens: [specimen], comparison: null, comparedWith: null })
  files = await filesOf(study)
})

test('The journal of a capture is the raw data of its package: it verifies, and comes back as what it was', async () => {
  const verified = good(await verifyPackage(sourceOf(files), sha256, openRaw))
  expect(verified.differences).toEqual([])
  expect(isSound(verified)).toBe(true)
  await inFolder(async folder => {
    const store = await openAt(folder)
    const taken = good(await importPackage(store, sourceOf(files), sha256))
    expect(taken).toMatchObject({ recordings: 1, known: 0, readings: 1 })
    expect((await store.recordings.list()).items).toMatchObject([
      { sha256: log.sha256, source: 'live', startedAt: log.startedAt },
    ])
    const again = good(await importPackage(store, sourceOf(files), sha256))
    expect(again).toMatchObject({ study: { isNew: false }, recordings: 0, known: 1 })
    await store.close()
  })
})

test('The page that its maker composed is the same after the way out and in', async () => {
  const study = madeStudy()
  await inFolder(async folder => {
    const store = await openAt(folder)
    const { study: made } = good(await importPackage(store, sourceOf(await filesOf(study)), sha256))
    const kept = good(await store.studies.get(made.id))
    expect(kept).toMatchObject({ method: study.method, tell: PAGE })
    const again = good(await publishedStudy(store, made.id, { madeAt: study.madeAt }))
    expect(again.page).toEqual(PAGE)
    const heads = (one: PublishedStudy) => reportOf(one).sections.map(({ heading }) => heading)
    expect(heads(again)).toEqual(heads(study))
    const usual = madeStudy({ name: 'Usual', page: USUAL_PAGE, specimens: [], comparison: null })
    const plain = good(await importPackage(store, sourceOf(await filesOf(usual)), sha256))
    // The usual page may gain parts with time: it is not pinned down.
    expect(good(await store.studies.get(plain.study.id)).tell).toBeNull()
    await store.close()
  })
})

test('Where its recordings lie in films is the same after the way out and in; what a study knows itself stays', async () => {
  const bare = madeStudy()
  const { recording, logs } = bare.specimens.find(one => one.recording !== null)!
  const sync = (offsetS: number): Sync => ({
    document: 'tenterhook.sync',
    version: 1,
    clip: { name: 'shed.mp4', lengthS: 61.5, transients: 3 },
    placements: [placedByHand({ ...recording!, sha256: logs[0]!.sha256 }, offsetS)],
    notPlaced: [],
  })
  const frames = {
    width: 1920,
    height: 1080,
    times: { kind: 'steady', rate: { num: 30_000, den: 1001 }, count: 1843 },
  } as const
  const films = [{ sync: sync(12.5), frames }]
  const packed = await filesOf({ ...bare, films })
  const readme = new TextDecoder().decode(packed.get('README.md'))
  expect(readme).toContain('The recordings lie in 1 film: shed.mp4.')
  expect(readme).toContain('The films are not in the package')
  await inFolder(async folder => {
    const store = await openAt(folder)
    const { study } = good(await importPackage(store, sourceOf(packed), sha256))
    expect(filmsFrom(good(await store.studies.get(study.id)).films)).toEqual(films)
    expect(good(await publishedStudy(store, study.id, { madeAt: bare.madeAt })).films).toEqual(films)
    const other = await filesOf({
      ...bare,
      films: [
        { sync: sync(3), frames: null },
        { sync: { ...sync(4), clip: { ...sync(4).clip, name: 'yard.mp4' } }, frames: null },
      ],
    })
    good(await importPackage(store, sourceOf(other), sha256))
    const kept = filmsFrom(good(await store.studies.get(study.id)).films)
    expect(kept.map(one => [one.sync.clip.name, one.sync.placements[0]?.offsetS])).toEqual([
      ['shed.mp4', 12.5],
      ['yard.mp4', 4],
    ])
    await store.close()
  })
})

test('Where no journal can be read, that is told and nothing is guessed', async () => {
  const verified = good(await verifyPackage(sourceOf(files), sha256, openText))
  expect(verified.notMade[0]?.what).toContain('journal of a capture')
  expect(isSound(verified)).toBe(false)
  const cut = openRaw(new TextEncoder().encode('time,force\n'), log)
  expect(cut.ok).toBe(false)
})

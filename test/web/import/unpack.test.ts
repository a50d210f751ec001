import { expect, test } from 'vitest'
import type { Check } from '../../../src/core/calibration/checkDocument.ts'
import { zipOf } from '../../../src/publish/package/zip/zipOf.ts'
import type { PublishedStudy } from '../../../src/publish/study/study.ts'
import { sortFiles } from '../../../src/web/import/sortFiles.ts'
import { madeStudy, PAGE } from '../../publish/package/madeStudy.ts'
import { type Files, filesOf, streamOf } from '../../publish/package/sources.ts'

const zipFile = async (study: PublishedStudy, change: (files: Files) => void = () => {}) => {
  const files = await filesOf(study)
  change(files)
  const pieces: Uint8Array<ArrayBuffer>[] = []
  for await (const piece of zipOf(streamOf(files), '2026-05-01T12:00:00Z')) pieces.push(piece.slice())
  return new File(pieces, 'study.zip')
}

const CHECK: Check = {
  document: 'tenterhook.check',
  version: 1,
  at: '2026-05-04T08:10:00Z',
  appliedN: 19.61,
  appliedStandardN: 0.02,
  indicatedN: 19.7,
  indicatedStandardN: 0.05,
  zeroN: 0.1,
  calibration: '2026-05-02',
  verdict: 'within',
  findings: [],
}

test('a data package gives its logs, each with its specimen, its options and the adjustments of its reading', async () => {
  const study = { ...(await madeStudy()), checks: [CHECK] }
  const found = await sortFiles([await zipFile(study)])
  expect(found.strange).toEqual([])
  const { name, question, method, equivalents } = study
  expect(found.study).toEqual({ name, question, told: { method, tell: PAGE, equivalents } })
  const logs = study.specimens.flatMap(specimen => specimen.logs.map(log => ({ specimen, log })))
  expect(logs.length).toBeGreaterThan(1)
  expect(found.logs).toHaveLength(logs.length)
  for (const [i, { specimen, log }] of logs.entries()) {
    const got = found.logs[i]
    expect(new Uint8Array((await got?.file.arrayBuffer()) ?? [])).toEqual(new Uint8Array(await log.bytes()))
    expect(got?.options).toEqual(log.options)
    expect(got?.rig).toEqual(specimen.readWith.rig)
    expect(got?.calibration).toBe(specimen.readWith.calibration)
    const row = found.tables[0]?.rows[i]
    expect(row).toMatchObject({ file: got?.file.name, specimen: specimen.name, variant: specimen.variant })
  }
  expect(found.tables[0]?.checked).toEqual({ rig: study.rig, checks: study.checks })
  const adjusted = study.specimens.filter(({ reading }) => (reading?.adjustments?.length ?? 0) > 0)
  expect(adjusted.length).toBeGreaterThan(0)
  expect(found.logs.flatMap(({ adjustments = [] }) => adjustments)).toEqual(
    study.specimens.flatMap(({ reading }) => reading?.adjustments ?? []),
  )
})

test('a package whose files were changed is refused, with the file', async () => {
  const study = await madeStudy()
  const found = await sortFiles([
    await zipFile(study, files => {
      const [path] = [...files.keys()].filter(one => one.startsWith('raw/'))
      files.set(path ?? '', new TextEncoder().encode('other'))
    }),
  ])
  expect(found.logs).toEqual([])
  expect(found.strange[0]?.problem.where).toContain('study.zip, raw/')
})

/** The files of a package, as a folder is dropped: by their names alone. */
const folder = async (study: PublishedStudy) =>
  [...(await filesOf(study))].map(
    ([path, bytes]) => new File([bytes.slice()], path.split('/').at(-1) ?? '', { lastModified: 1 }),
  )

test('a package that is dropped as a folder is the same as its zip, and other logs beside it are logs', async () => {
  const study = await madeStudy()
  const other = new File(['time s,force N\n0,1\n1,2\n'], 'other.csv')
  const found = await sortFiles([...(await folder(study)), other])
  const zipped = await sortFiles([await zipFile(study)])
  const plain = ({ logs }: typeof found) =>
    logs.map(({ file, options, adjustments, rig }) => ({ name: file.name, options, adjustments, rig }))
  expect(plain(found).slice(0, -1)).toEqual(plain(zipped))
  expect(found.study).toEqual(zipped.study)
  expect(found.logs.at(-1)?.file).toBe(other)
  expect(found.strange).toEqual([])
})

test('of a package that lacks files the first is named, and a description alone is told for what it is', async () => {
  const files = await folder(await madeStudy())
  const description = files.filter(({ name }) => name === 'datapackage.json')
  const without = files.filter(({ name }) => name !== 'study.json')
  expect((await sortFiles(without)).strange.map(({ problem }) => problem.where)).toContainEqual(
    expect.stringContaining('study.json'),
  )
  const [alone] = (await sortFiles(description)).strange
  expect(alone?.problem.what).toContain('only the description')
})

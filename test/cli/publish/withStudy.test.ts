import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Command } from 'commander'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { writeDemo } from '../../../src/cli/demo/writeDemo.ts'
import { EXIT } from '../../../src/cli/io.ts'
import { addStudyOptions, type StudyFlags } from '../../../src/cli/publish/studyOptions.ts'
import { withStudy } from '../../../src/cli/publish/withStudy.ts'
import type { PublishedStudy } from '../../../src/publish/study/study.ts'
import { studyOf } from '../../../src/server/publishedStudy.ts'
import { good, openAt } from '../../store/stores.ts'
import { ran } from '../fakeIo.ts'

let folder = ''
let files: string[] = []
let table = ''

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-study-'))
  const demo = good(await writeDemo(join(folder, 'Carrier bags')))
  table = demo.table
  files = demo.specimens.flatMap(specimen => [...specimen.paths])
}, 60_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** The study as a command would get it; what was told on standard error where it gets none. */
async function studyOfWords(
  words: readonly string[],
): Promise<{ study: PublishedStudy | null; err: string }> {
  let study: PublishedStudy | null = null
  let err = ''
  const io = {
    out: () => {},
    err: (text: string) => {
      err += text
    },
    outIsTerminal: false,
    errIsTerminal: false,
    columns: 100,
    env: {},
  }
  const command = addStudyOptions(new Command())
    .argument('[file...]')
    .exitOverride()
    .action(async (named: string[], flags: StudyFlags) => {
      await withStudy(named, flags, io, async told => {
        study = told
        return EXIT.ok
      })
    })
  await command.parseAsync(words, { from: 'user' })
  return { study, err }
}

describe('a study of files', () => {
  test('has every specimen with its curve, reading, facts and logs', async () => {
    const { study, err } = await studyOfWords([
      '--specimens',
      table,
      '--question',
      'Which holds best?',
      ...files,
    ])
    expect(err).not.toContain('tenterhook:')
    expect(study).toMatchObject({
      name: 'Carrier bags',
      question: 'Which holds best?',
      forceUnit: 'kgf',
      rig: null,
    })
    expect(study?.variants.map(variant => variant.name)).toEqual(['hot-melt', 'wheat-paste', 'stitching'])
    expect(study?.specimens).toHaveLength(15)
    const twoLogs = study?.specimens.find(specimen => specimen.logs.length === 2)
    expect(twoLogs).toMatchObject({ name: 'stitching-3', elements: 14, widthMm: 90, status: 'pulled' })
    expect(new Set(twoLogs?.logs.map(log => log.sha256)).size).toBe(2)
    for (const { recording, reading, logs } of study?.specimens ?? []) {
      expect(recording?.timeS.length).toBe(reading?.recording.samples)
      for (const log of logs) expect((await log.bytes()).length).toBe(log.byteLength)
    }
  })
  test('is compared as `compare` does it', async () => {
    const words = ['--specimens', table, '--drop', 'hot-melt-5=the bag tore', ...files]
    const { study } = await studyOfWords(words)
    const compared = JSON.parse((await ran(['compare', '--json', ...words])).out)
    expect(study?.comparison).toEqual(compared)
    expect(study?.specimens.find(specimen => specimen.status === 'left-out')).toMatchObject({
      name: 'hot-melt-5',
      statusReason: 'the bag tore',
    })
  })
  test('is read with the adjustments of each specimen, which must be one of them', async () => {
    const path = join(folder, 'adjustments.json')
    const signed = { who: 'Ada Tester', when: '2026-05-04T14:20:00Z', why: 'counted' }
    const adjustments = [{ id: 'a', kind: 'elements', count: 7, ...signed }]
    writeFileSync(path, JSON.stringify({ document: 'tenterhook.adjustments', version: 1, adjustments }))
    const words = ['--specimens', table, ...files, '--adjust']
    const { study } = await studyOfWords([...words, `hot-melt-1=${path}`])
    for (const { name, reading } of study?.specimens ?? [])
      expect(reading?.adjustments ?? []).toEqual(name === 'hot-melt-1' ? adjustments : [])
    expect((await studyOfWords([...words, path])).err).toContain('which of 15 specimens')
    expect((await studyOfWords([...words, `hot-melt-9=${path}`])).err).toContain('no specimen “hot-melt-9”')
  })
  test('stands on readings alone where these are given', async () => {
    const readings = await ran(['read', '--json', '--specimens', table, ...files])
    const path = join(folder, 'readings.jsonl')
    writeFileSync(path, readings.out)
    const { study } = await studyOfWords([path])
    expect(study?.specimens).toHaveLength(15)
    expect(
      study?.specimens.every(specimen => specimen.recording === null && specimen.logs.length === 0),
    ).toBe(true)
  })
  test('takes the method from a text file, and tells when it is not there', async () => {
    const path = join(folder, 'method.txt')
    writeFileSync(path, '\ufeffGlued, left for a day.\n')
    expect((await studyOfWords(['--specimens', table, '--method', path, ...files])).study?.method).toBe(
      'Glued, left for a day.',
    )
    const missing = await studyOfWords(['--method', join(folder, 'none.txt'), ...files])
    expect(missing.study).toBeNull()
    expect(missing.err).toContain('there is no such file')
  })
})

describe('a study of the store', () => {
  const store = () => join(folder, 'store')
  beforeAll(async () => {
    for (const variant of ['hot-melt', 'stitching']) {
      const own = files.filter(file => file.includes(variant) && !file.includes('-3'))
      const code = await ran([
        'import',
        '--store',
        store(),
        '--study',
        'Handles',
        '--variant',
        variant,
        ...own,
      ])
      expect(code.code, code.err).toBe(0)
    }
    const open = await openAt(store())
    const study = good(await studyOf(open, 'Handles'))
    const [first, second] = await open.specimens.list(study.id)
    good(await open.studies.update(study.id, { question: 'Which?', failureModes: ['tore'] }))
    good(
      await open.specimens.update(first!.id, {
        status: 'left-out',
        statusReason: 'Ada Tester bumped the table',
        operator: 'Ada Tester',
        failureMode: 'tore',
      }),
    )
    good(await open.notes.add({ kind: 'specimen', id: second!.id }, 'clean break, says Ada', 'Ada Tester'))
    const [kept] = (await open.recordings.list({ specimenId: second!.id })).items
    good(await open.recordings.setAside(kept!.id, 'the line was cut'))
    good(await open.studies.update(study.id, { method: 'Pulled by hand.' }))
    await open.close()
  }, 60_000)

  test('is found by name and by id, and told with everything that is kept of it', async () => {
    const { study } = await studyOfWords(['--study', 'Handles', '--store', store()])
    expect(study).toMatchObject({
      name: 'Handles',
      question: 'Which?',
      method: 'Pulled by hand.',
      forceUnit: 'kgf',
    })
    expect(study?.specimens).toHaveLength(8)
    const [first, second, third] = study?.specimens ?? []
    expect(first).toMatchObject({ status: 'left-out', failureMode: 'tore', operator: 'Ada Tester' })
    expect(second?.setAside).toEqual([
      { name: second?.logs[0]?.name ?? `${second?.name}.csv`, why: 'the line was cut' },
    ])
    expect(second?.remarks).toMatchObject([{ text: 'clean break, says Ada', operator: 'Ada Tester' }])
    expect(third?.reading?.results.peakForce.valueN).toBeGreaterThan(0)
    expect(study?.comparison?.groups.map(group => group.name)).toEqual(['hot-melt', 'stitching'])
    expect(study?.comparison?.verdict).toContain('kgf')
  })
  test('its people are initials when asked so', async () => {
    const { study } = await studyOfWords(['--study', 'Handles', '--store', store(), '--initials'])
    expect(study?.specimens[0]).toMatchObject({ operator: 'A. T.', statusReason: 'A. T. bumped the table' })
    expect(study?.specimens[1]?.remarks[0]).toMatchObject({ text: 'clean break, says A.', operator: 'A. T.' })
    expect(
      JSON.stringify({ ...study, specimens: study?.specimens.map(s => ({ ...s, recording: null })) }),
    ).not.toMatch(/Ada|Tester/)
  })
  test('one that is not there is told with those that are', async () => {
    const { study, err } = await studyOfWords(['--study', 'Bags', '--store', store()])
    expect(study).toBeNull()
    expect(err).toContain('“Handles”')
  })
})

test('files and a study of the store, or neither, are told', async () => {
  expect((await studyOfWords(['--study', 'x', 'a.csv'])).err).toContain('not both')
  expect((await studyOfWords([])).err).toContain('no study')
})

import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  truncateSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { unzipSync, zipSync } from 'fflate'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { EXIT } from '../../../src/cli/io.ts'
import { writePackage } from '../../../src/cli/package/nodePackage.ts'
import { packageFiles } from '../../../src/publish/package/packageFiles.ts'
import { sha256 } from '../../../src/server/hash.ts'
import type { Store } from '../../../src/store/index.ts'
import { madeLog, madeStudy } from '../../publish/package/madeStudy.ts'
import { good, openAt } from '../../store/stores.ts'
import { ran } from '../fakeIo.ts'

let folder = ''
const at = (...names: string[]): string => join(folder, ...names)
const MADE_AT = '2026-05-04T14:20:00.000Z'

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-package-'))
  mkdirSync(at('logs'))
  for (const [i, topN] of [40, 44, 42].entries())
    writeFileSync(at('logs', `glue-${i + 1}.csv`), madeLog(topN))
  for (const [i, topN] of [60, 64, 63].entries())
    writeFileSync(at('logs', `thread-${i + 1}.csv`), madeLog(topN))
  const files = packageFiles(madeStudy(), { licence: null, authors: [], sha256 })
  good(await writePackage(at('handles.zip'), files, MADE_AT))
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const logs = (): string[] =>
  ['glue', 'thread'].flatMap(variant => [1, 2, 3].map(n => at('logs', `${variant}-${n}.csv`)))
const packed = (...words: string[]) =>
  ran(['package', '--name', 'Handles', '--made-at', MADE_AT, ...words, ...logs()])
const verified = async (path: string) => {
  const { code, out } = await ran(['verify', '--json', path])
  return { code, found: JSON.parse(out) }
}

/** What a store tells, without ids and times of its own. */
async function inStore<T>(name: string, work: (store: Store) => Promise<T>): Promise<T> {
  const store = await openAt(at(name))
  try {
    return await work(store)
  } finally {
    await store.close()
  }
}

describe('package', () => {
  test('writes a zip of logs that verifies, the same every time', async () => {
    const first = await packed('--licence', 'cc-by-4.0', '--author', 'Ada Byron', '--out', at('a.zip'))
    expect(first.err).not.toContain('tenterhook:')
    expect(first.code).toBe(EXIT.ok)
    expect(first.out).toContain('Licence: Creative Commons Attribution 4.0 International.')
    expect(first.out).toContain('none differs')
    await packed('--licence', 'CC-BY-4.0', '--author', 'Ada Byron', '--out', at('b.zip'))
    expect(readFileSync(at('a.zip')).equals(readFileSync(at('b.zip')))).toBe(true)
    const files = unzipSync(readFileSync(at('a.zip')))
    expect(files['raw/glue-1/glue-1.csv']).toEqual(madeLog(40))
    expect((await ran(['verify', at('a.zip')])).code).toBe(EXIT.ok)
  })

  test('writes a folder, but into none that holds anything', async () => {
    const { code, out } = await packed('--out', at('folder'))
    expect(code).toBe(EXIT.ok)
    expect(out).toContain('all rights are reserved')
    expect((await verified(at('folder'))).code).toBe(EXIT.ok)
    expect((await verified(at('folder', 'datapackage.json'))).code).toBe(EXIT.ok)
    const again = await packed('--out', at('folder'))
    expect(again.code).toBe(EXIT.output)
    expect(again.err).toContain('the folder is not empty')
  })

  test('tells what is wrong with its options', async () => {
    expect((await packed('--licence', 'GPL', '--out', at('x.zip'))).code).toBe(EXIT.usage)
    expect((await packed('--out', at('x.zip'), '--made-at', 'yesterday')).code).toBe(EXIT.usage)
    expect((await packed()).code).toBe(EXIT.usage)
    expect((await packed('--out', at('nowhere', 'x.zip'))).code).toBe(EXIT.output)
    expect((await ran(['package', '--out', at('x.zip')])).code).toBe(EXIT.usage)
    const help = await ran(['package', '--help'])
    expect(help.out).toMatch(/Examples:[\s\S]*Exit codes:/)
  })
})

describe('verify', () => {
  test('refuses a folder with a file that is nearly all hole before it reads it', async () => {
    expect((await packed('--out', at('holed'))).code).toBe(EXIT.ok)
    for (const [bytes, says] of [
      [80 * 2 ** 20, /raw.big\.csv: it comes to \d+ times its size, as a file made to fill a disk does/],
      [3 * 2 ** 30, /holed: it comes to \d+ times its size, as one made to fill a disk does/],
    ] as const) {
      writeFileSync(at('holed', 'raw', 'big.csv'), 'time_s,force_N\n')
      truncateSync(at('holed', 'raw', 'big.csv'), bytes)
      const refused = await ran(['verify', at('holed')])
      expect(refused.code).toBe(EXIT.input)
      expect(refused.err).toMatch(says)
    }
  })

  test('names the raw recording that was changed, and the figures that follow from it', async () => {
    good(
      await writePackage(
        at('changed'),
        packageFiles(madeStudy(), { licence: null, authors: [], sha256 }),
        MADE_AT,
      ),
    )
    writeFileSync(at('changed', 'raw', 'glue-2', 'glue-2.csv'), madeLog(45))
    const { code, found } = await verified(at('changed'))
    expect(code).toBe(EXIT.doubtful)
    expect(found.sound).toBe(false)
    expect(found.fileFindings.map((one: { path: string }) => one.path)).toEqual(['raw/glue-2/glue-2.csv'])
    const text = await ran(['verify', at('changed')])
    expect(text.code).toBe(EXIT.doubtful)
    expect(text.out).toContain('raw/glue-2/glue-2.csv: it holds 4100 bytes; 4099 were published.')
    const peak =
      /glue-2\.json, results\.peakForce\.valueN: published (\S+), made again (\S+) \(\+1\.\d+, \+2\.\d+ %\)/
    expect(text.out).toMatch(peak)
  })

  test('refuses what would leave the folder, links, and what is no package', async () => {
    writeFileSync(at('slip.zip'), zipSync({ '../evil.csv': new Uint8Array(3) }))
    const slip = await ran(['verify', at('slip.zip')])
    expect(slip.code).toBe(EXIT.input)
    expect(slip.err).toContain('leaves its folder')
    mkdirSync(at('linked'))
    symlinkSync(at('handles.zip'), at('linked', 'datapackage.json'))
    expect((await ran(['verify', at('linked')])).err).toContain('it is a link')
    expect((await ran(['verify', at('logs')])).err).toContain('there is no datapackage.json')
    expect((await ran(['verify', at('logs', 'glue-1.csv')])).err).toContain('it is no zip')
    expect((await ran(['verify', at('nowhere.zip')])).code).toBe(EXIT.input)
  })
})

describe('import', () => {
  const imported = async (store: string, path: string) => {
    const { code, out, err } = await ran(['import', '--json', '--store', at(store), path])
    return { code, err, told: out === '' ? null : JSON.parse(out) }
  }

  test('takes a package in: study, specimens, logs to the same hashes, readings, adjustments, rig, photos', async () => {
    const { code, told } = await imported('one', at('handles.zip'))
    expect(code).toBe(EXIT.ok)
    expect(told).toMatchObject({
      study: { name: 'Handles', isNew: true },
      specimens: 6,
      recordings: 7,
      known: 0,
      readings: 6,
      rigs: ['bench screw'],
      told: [],
    })
    const wanted = madeStudy()
    await inStore('one', async store => {
      const study = (await store.studies.byName('Handles'))!
      expect(study).toMatchObject({
        question: wanted.question,
        method: wanted.method,
        failureModes: ['glue let go'],
      })
      expect(
        (await store.variants.list(study.id)).map(({ name, control, note }) => ({ name, control, note })),
      ).toEqual(wanted.variants)
      const readings = await store.readings.latestOfStudy(study.id)
      for (const specimen of await store.specimens.list(study.id)) {
        const published = wanted.specimens.find(({ name }) => name === specimen.name)!
        const { items } = await store.recordings.list({ specimenId: specimen.id })
        expect(items.toSorted((a, b) => a.place - b.place).map(({ sha256 }) => sha256)).toEqual(
          published.logs.map(({ sha256 }) => sha256),
        )
        const reading = readings.find(({ specimenId }) => specimenId === specimen.id)!
        expect(reading.reading).toEqual(published.reading)
        expect(reading.adjustments).toEqual(published.reading?.adjustments ?? [])
        expect(specimen).toMatchObject({
          status: published.status,
          statusReason: published.statusReason,
          note: published.note,
          operator: published.operator,
          widthMm: published.widthMm,
        })
      }
      const first = (await store.specimens.list(study.id)).find(({ name }) => name === 'glue 1')!
      const subject = { kind: 'specimen', id: first.id } as const
      expect(await store.photos.list(subject)).toMatchObject([
        { name: 'after.png', caption: 'after <b>it</b> broke' },
      ])
      expect(await store.notes.list(subject)).toMatchObject([
        { text: 'smelled of glue', operator: 'Ada Byron', madeAt: '2026-05-04T15:00:00.000Z' },
      ])
      expect((await store.rigs.list()).map(({ document }) => document)).toEqual([
        JSON.parse(JSON.stringify(wanted.rig)),
      ])
    })
  })

  test('again changes nothing, also when the study goes by another name now', async () => {
    const again = await imported('one', at('handles.zip'))
    expect(again.told).toMatchObject({
      study: { isNew: false },
      recordings: 0,
      known: 7,
      readings: 0,
      rigs: [],
    })
    await inStore('one', async store => {
      const study = (await store.studies.byName('Handles'))!
      good(await store.studies.update(study.id, { name: 'Old handles' }))
    })
    expect((await imported('one', at('handles.zip'))).told.study).toMatchObject({
      name: 'Old handles',
      isNew: false,
    })
    await inStore('one', async store => {
      expect(await store.studies.list()).toHaveLength(1)
      const study = (await store.studies.byName('Old handles'))!
      good(await store.studies.update(study.id, { name: 'Handles' }))
      expect(await store.notes.list({ kind: 'study', id: study.id })).toHaveLength(1)
    })
  })

  test('and package again gives the same figures, from raw data that verify', async () => {
    const out = at('again.zip')
    const again = await ran([
      'package',
      '--store',
      at('one'),
      '--study',
      'Handles',
      '--made-at',
      MADE_AT,
      '--out',
      out,
    ])
    expect(again.err).not.toContain('tenterhook:')
    expect(again.code).toBe(EXIT.ok)
    const [before, after] = [at('handles.zip'), out].map(path => unzipSync(readFileSync(path)))
    const carried = Object.keys(before!).filter(path =>
      /^(?:raw|readings|adjustments|clean|rigs|photos)\//.test(path),
    )
    expect(carried).toHaveLength(7 + 6 + 1 + 12 + 1 + 1)
    for (const path of carried) expect({ path, bytes: after![path] }).toEqual({ path, bytes: before![path] })
  })

  test('puts a number behind the name where another study has it', async () => {
    await ran(['import', '--store', at('two'), '--study', 'Handles', at('logs', 'thread-1.csv')])
    const { told, err } = await imported('two', at('handles.zip'))
    expect(told.study).toMatchObject({ name: 'Handles (2)', isNew: true })
    // The log of thread 1 is there already, on the other study.
    expect(told).toMatchObject({ recordings: 6, known: 1, readings: 5 })
    expect(err).toContain('a log belongs to one specimen')
    expect((await imported('two', at('handles.zip'))).told.study).toMatchObject({
      name: 'Handles (2)',
      isNew: false,
    })
  })

  test('takes nothing of a package that was changed', async () => {
    good(
      await writePackage(
        at('broken'),
        packageFiles(madeStudy(), { licence: null, authors: [], sha256 }),
        MADE_AT,
      ),
    )
    writeFileSync(at('broken', 'raw', 'thread-3', 'thread-3.csv'), madeLog(45))
    const { code, err } = await imported('three', at('broken'))
    expect(code).toBe(EXIT.input)
    expect(err).toContain('raw/thread-3/thread-3.csv')
    await inStore('three', async store => expect(await store.studies.list()).toEqual([]))
  })

  test('takes packages by themselves', async () => {
    const both = await ran(['import', '--store', at('four'), at('handles.zip'), ...logs()])
    expect(both.code).toBe(EXIT.usage)
    const named = await ran(['import', '--store', at('four'), '--study', 'X', at('handles.zip')])
    expect(named.code).toBe(EXIT.usage)
    cpSync(at('handles.zip'), at('Handles.ZIP'))
    const text = await ran(['import', '--store', at('four'), at('Handles.ZIP')])
    expect(text.out).toContain('new study “Handles”, 6 specimens: 7 recordings taken in')
  })
})

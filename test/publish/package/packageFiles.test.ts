import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { Ajv } from 'ajv'
import { parse } from 'csv-parse/sync'
import * as fc from 'fast-check'
import { parquetMetadataAsync, parquetReadObjects } from 'hyparquet'
import { beforeAll, describe, expect, test } from 'vitest'
import { correctedForce } from '../../../src/core/reading/correctedForce.ts'
import { licenceOf } from '../../../src/publish/package/licences.ts'
import { openDescriptor } from '../../../src/publish/package/openDescriptor.ts'
import { readPackage } from '../../../src/publish/package/readPackage.ts'
import { sameOnAnySystem, unsafePath } from '../../../src/publish/package/safePath.ts'
import { USUAL_PAGE } from '../../../src/publish/study/page.ts'
import type { PublishedStudy } from '../../../src/publish/study/study.ts'
import { good } from '../../store/stores.ts'
import { madeLog, madeSpecimen, madeStudy, PNG, RIG, sha256 } from './madeStudy.ts'
import { type Files, filesOf, jsonOf, sourceOf, textOf } from './sources.ts'

const SCHEMAS = join(import.meta.dirname, '../../reference/data-package')
const schema = (name: string) => JSON.parse(readFileSync(join(SCHEMAS, `${name}.json`), 'utf8'))
/** The published schemas are of JSON Schema draft 4; what they use of it means the same in later drafts. */
const validator = (name: string) => {
  const { $schema: _draft, ...rest } = schema(name)
  return new Ajv({ strict: false, validateFormats: false, allErrors: true }).compile(rest)
}

interface Resource {
  readonly path: string
  readonly name: string
  readonly profile: string
  readonly bytes: number
  readonly hash: string
  readonly schema?: { readonly fields: readonly { readonly name: string; readonly unit?: string }[] }
}

const [whole, table] = [validator('data-package'), validator('tabular-data-resource')]

/** Faults of a descriptor by the published schemas. */
function faults(descriptor: { readonly resources: readonly Resource[] }): unknown[] {
  whole(descriptor)
  const tables = descriptor.resources.filter(({ profile }) => profile === 'tabular-data-resource')
  return [...(whole.errors ?? []), ...tables.flatMap(one => (table(one) ? [] : (table.errors ?? [])))]
}

let study: PublishedStudy
let files: Files
beforeAll(async () => {
  study = madeStudy()
  files = await filesOf(study, { licence: good(licenceOf('cc-by-4.0')), authors: ['Ada Byron'] })
})

describe('the descriptor', () => {
  test('keeps to the published schemas', () => {
    const descriptor = jsonOf(files, 'datapackage.json')
    expect(faults(descriptor)).toEqual([])
    expect(descriptor).toMatchObject({
      name: 'handles',
      title: 'Handles',
      created: '2026-05-04T14:20:00.000Z',
      licenses: [{ name: 'CC-BY-4.0', path: 'https://creativecommons.org/licenses/by/4.0/legalcode' }],
      contributors: [{ title: 'Ada Byron' }],
    })
    // The schema must be able to say no.
    expect(faults({ ...descriptor, resources: [] })).not.toEqual([])
    expect(
      faults({ ...descriptor, resources: [{ ...descriptor.resources[0], name: 'No Name' }] }),
    ).not.toEqual([])
  })

  test('lists every other file once, with its size and SHA-256', async () => {
    const { resources } = jsonOf(files, 'datapackage.json') as { resources: Resource[] }
    expect(resources.map(({ path }) => path).sort()).toEqual(
      [...files.keys()].filter(path => path !== 'datapackage.json').sort(),
    )
    expect(new Set(resources.map(({ name }) => name)).size).toBe(resources.length)
    for (const { path, bytes, hash } of resources) {
      expect(files.get(path)?.length).toBe(bytes)
      expect(hash).toBe(`sha256:${await sha256(files.get(path)!)}`)
    }
  })

  test('names the columns of every table as they stand in it, with units', () => {
    const { resources } = jsonOf(files, 'datapackage.json') as { resources: Resource[] }
    const tables = resources.filter(({ profile }) => profile === 'tabular-data-resource')
    expect(tables).toHaveLength(7)
    for (const { path, schema: columns } of tables) {
      const [names] = parse(textOf(files, path)) as string[][]
      expect(columns?.fields.map(({ name }) => name)).toEqual(names)
    }
    const clean = tables.find(({ path }) => path === 'clean/glue-1.csv')
    expect(clean?.schema?.fields).toEqual([
      { name: 'time_s', type: 'number', unit: 's' },
      { name: 'force_N', type: 'number', unit: 'N' },
      { name: 'corrected_force_N', type: 'number', unit: 'N' },
    ])
  })

  test('says plainly that no licence was chosen', async () => {
    const none = await filesOf(study)
    expect(jsonOf(none, 'datapackage.json').licenses).toBeUndefined()
    expect(faults(jsonOf(none, 'datapackage.json'))).toEqual([])
    expect(textOf(none, 'README.md')).toContain('all rights are reserved')
    expect(textOf(files, 'README.md')).toContain('<https://creativecommons.org/licenses/by/4.0/legalcode>')
  })
})

describe('the licence', () => {
  test('is one of the list in any case, none, or a name with its text', () => {
    expect(good(licenceOf('odbl-1.0'))?.name).toBe('ODbL-1.0')
    expect(good(licenceOf('none'))).toBeNull()
    expect(good(licenceOf('MIT=https://spdx.org/licenses/MIT'))).toEqual({
      name: 'MIT',
      title: 'MIT',
      path: 'https://spdx.org/licenses/MIT',
    })
    for (const word of [
      '',
      'cc-by',
      'MIT=javascript:alert(1)',
      'a b=https://x.org',
      'MIT=https://x/"><script>',
    ])
      expect(licenceOf(word).ok).toBe(false)
  })
})

describe('the files', () => {
  test('are the same bytes for the same study', async () => {
    const again = await filesOf(madeStudy(), {
      licence: good(licenceOf('CC-BY-4.0')),
      authors: ['Ada Byron'],
    })
    expect([...again.keys()]).toEqual([...files.keys()])
    for (const [path, bytes] of again)
      expect({ path, same: Buffer.from(bytes).equals(files.get(path)!) }).toEqual({ path, same: true })
  })

  test('hold the logs as received, and two of one name apart', async () => {
    expect(files.get('raw/glue-1/glue-1.csv')).toEqual(madeLog(40))
    expect(files.get('raw/thread-2/thread-2.csv')).toEqual(madeLog(20))
    expect(files.get('raw/thread-2/thread-2-2.csv')).toEqual(madeLog(63.3))
    expect(files.get('photos/glue-1-after.png')).toEqual(PNG)
  })

  test('hold every sample as it was read, as CSV and as Parquet', async () => {
    const { recording, reading } = study.specimens[0]!
    const corrected = correctedForce(recording!, reading!)
    const rows = parse(textOf(files, 'clean/glue-1.csv'), { columns: true, cast: true }) as Record<
      string,
      number
    >[]
    const file = files.get('clean/glue-1.parquet')!.slice().buffer
    const packed = await parquetReadObjects({ file })
    expect((await parquetMetadataAsync(file)).num_rows).toBe(BigInt(recording!.timeS.length))
    expect(rows).toHaveLength(recording!.timeS.length)
    for (const [i, row] of rows.entries()) {
      const wanted = {
        time_s: recording!.timeS[i],
        force_N: recording!.forceN[i],
        corrected_force_N: corrected[i],
      }
      expect(row).toEqual(wanted)
      expect(packed[i]).toEqual(wanted)
    }
    // The rig's scale is 1.01 and the rest is taken off: about 40.4 N.
    expect(Math.max(...corrected)).toBeCloseTo(1.01 * 40, 0)
  })

  test('name rigs, adjustments and figures', () => {
    expect(jsonOf(files, 'rigs/bench-screw.json')).toEqual(JSON.parse(JSON.stringify(RIG)))
    expect(jsonOf(files, 'adjustments/glue-1.json').adjustments).toHaveLength(1)
    expect(files.has('adjustments/glue-2.json')).toBe(false)
    expect(jsonOf(files, 'readings/glue-1.json').results.peakForce.status).toBe('measured')
    expect(jsonOf(files, 'comparison.json').verdict).toBe(study.comparison?.verdict)
  })

  test('that a spreadsheet opens hold no formula, and every row is a line', () => {
    const table = textOf(files, 'specimens.csv')
    const rows = parse(table, { columns: true }) as Record<string, string>[]
    expect(rows).toHaveLength(6)
    expect(table.split('\n')).toHaveLength(8)
    expect(rows[0]?.note).toBe(`'=HYPERLINK("http://x")`)
    expect(jsonOf(files, 'study.json').specimens[0].note).toBe('=HYPERLINK("http://x")')
  })
})

describe('a log', () => {
  test('that is no longer what was received stops the package', async () => {
    const specimen = madeSpecimen({ name: 'a', variant: null, logs: [{ name: 'a.csv', bytes: madeLog(9) }] })
    const changed = {
      ...specimen,
      logs: specimen.logs.map(log => ({ ...log, bytes: async () => madeLog(10) })),
    }
    await expect(filesOf(madeStudy({ specimens: [changed], comparison: null }))).rejects.toThrow(
      'no longer those that were received',
    )
  })

  test('with a column named as a formula is harmless when cleaned', async () => {
    const bytes = madeLog(30, `time_s,force_N,"=cmd|'/c calc'!A1"`)
    const specimen = madeSpecimen({ name: 'a', variant: null, logs: [{ name: 'a.csv', bytes }] })
    const made = await filesOf(madeStudy({ specimens: [specimen], comparison: null, comparedWith: null }))
    const [names] = parse(textOf(made, 'clean/a.csv')) as string[][]
    expect(names?.at(-1)).toBe(`'=cmd|'/c calc'!A1`)
    expect(faults(jsonOf(made, 'datapackage.json'))).toEqual([])
  })
})

/** Names as people and attackers give them. */
const hostile = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 60 }),
  fc.string({ unit: 'grapheme', minLength: 60, maxLength: 300 }),
  fc.constantFrom(
    '',
    '..',
    '../../etc/passwd',
    'C:\\x',
    'CON',
    'aux.csv',
    'a/b',
    '=1+1',
    '-2;=1+1',
    '\t@SUM(1)',
    '<img src=x onerror=alert(1)>',
    '[x](javascript:alert(1))',
    'Ünïcode ﬁ Größe',
    '日本語',
    '__proto__',
    'a\r\nb',
    '.',
    'name.',
  ),
)

test('Whatever names are given, paths stay inside and apart, the descriptor is valid, tables are harmless, and all comes back', async () => {
  const bytes = madeLog(25)
  const plain = madeSpecimen({ name: 'a', variant: 'v', logs: [{ name: 'a.csv', bytes }] })
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(hostile, hostile, hostile, hostile), { minLength: 1, maxLength: 4 }),
      hostile,
      hostile,
      async (all, studyName, question) => {
        const specimens = all.map(([name, log, note, operator]) => ({
          ...plain,
          name,
          note,
          operator,
          logs: plain.logs.map(one => ({ ...one, name: log })),
          photos: [{ name: log, caption: note, mime: 'image/png' as const, bytes: async () => PNG }],
        }))
        const given = madeStudy({
          name: studyName,
          question,
          specimens,
          comparison: null,
          comparedWith: null,
        })
        const made = await filesOf(given)
        const paths = [...made.keys()]
        for (const path of paths) expect({ path, why: unsafePath(path) }).toEqual({ path, why: null })
        expect(new Set(paths.map(sameOnAnySystem)).size).toBe(paths.length)
        for (const path of paths) expect(path).toMatch(/^(?:README\.md|[a-z0-9/._-]+)$/)
        expect(faults(jsonOf(made, 'datapackage.json'))).toEqual([])
        const rows = parse(textOf(made, 'specimens.csv')) as string[][]
        for (const cell of rows.flat())
          if (Number.isNaN(Number(cell))) expect(cell).not.toMatch(/(?:^|[;\t\r\n])\s*[=+\-@]/)
        expect(textOf(made, 'README.md')).not.toMatch(/<(?!https:)/)
        const { source, descriptor } = good(await openDescriptor(sourceOf(made)))
        const back = good(await readPackage(source, descriptor)).study
        expect(told(back)).toEqual(told(given))
      },
    ),
    { numRuns: 40 },
  )
})

/** A study without its samples and functions, as JSON has it. */
const told = (one: PublishedStudy): unknown =>
  JSON.parse(
    JSON.stringify({ ...one, specimens: one.specimens.map(specimen => ({ ...specimen, recording: null })) }),
  )

test('A package that says nothing of a page, as the first ones did, has the usual one; one of a later version keeps what is known', async () => {
  const withStudy = async (change: (document: { page?: unknown }) => void) => {
    const document = jsonOf(files, 'study.json')
    change(document)
    const changed = new Map(files).set('study.json', new TextEncoder().encode(JSON.stringify(document)))
    const { source, descriptor } = good(await openDescriptor(sourceOf(changed)))
    return good(await readPackage(source, descriptor)).study.page
  }
  expect(await withStudy(document => void delete document.page)).toEqual(USUAL_PAGE)
  const later = await withStudy(document => {
    document.page = {
      version: 1,
      blocks: [
        { kind: 'part', part: 'moonlight', shown: true, words: '' },
        { kind: 'part', part: 'care', shown: false, words: 'Mind your eyes.' },
      ],
      folded: [],
    }
  })
  expect(later.blocks[0]).toEqual({ kind: 'part', part: 'care', shown: true, words: 'Mind your eyes.' })
  expect(later.blocks).toHaveLength(USUAL_PAGE.blocks.length)
})

test('All of a study comes back from its package', async () => {
  const { source, descriptor } = good(await openDescriptor(sourceOf(files)))
  const back = good(await readPackage(source, descriptor)).study
  expect(told(back)).toEqual(told(study))
  expect(await back.specimens[4]!.logs[1]!.bytes()).toEqual(madeLog(63.3))
  expect(await back.specimens[0]!.photos[0]!.bytes()).toEqual(PNG)
})

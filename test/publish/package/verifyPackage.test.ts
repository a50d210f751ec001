import { beforeAll, describe, expect, test } from 'vitest'
import { compareGroups } from '../../../src/core/statistics/compare/compareGroups.ts'
import { specimenOfReading } from '../../../src/core/statistics/compare/fromReading.ts'
import { perDimension } from '../../../src/core/statistics/compare/perDimension.ts'
import type { Specimen as Compared } from '../../../src/core/statistics/compare/specimen.ts'
import { openText } from '../../../src/publish/package/recomputed.ts'
import { isSound, type Verified, verifyPackage } from '../../../src/publish/package/verifyPackage.ts'
import { openZip, zipInMemory } from '../../../src/publish/package/zip/openZip.ts'
import { wholeZip } from '../../../src/publish/package/zip/zipOf.ts'
import { withInitials } from '../../../src/publish/study/initials.ts'
import { good } from '../../store/stores.ts'
import { madeLog, madeStudy, sha256 } from './madeStudy.ts'
import { type Files, filesOf, forged, jsonOf, sourceOf, streamOf, textOf } from './sources.ts'

const verified = async (files: Files): Promise<Verified> =>
  good(await verifyPackage(sourceOf(files), sha256, openText))
const refusal = async (files: Files): Promise<string> => {
  const outcome = await verifyPackage(sourceOf(files), sha256, openText)
  return outcome.ok
    ? 'it was read'
    : outcome.problems.map(({ where, what }) => `${where}: ${what}`).join('\n')
}

let files: Files
beforeAll(async () => {
  files = await filesOf(madeStudy())
})
const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text)

describe('a package as it was published', () => {
  test('is sound: every figure comes again from the raw data', async () => {
    const found = await verified(files)
    expect(found).toMatchObject({ study: 'Handles', specimens: 6, logs: 7, fileFindings: [], notMade: [] })
    expect(found.differences).toEqual([])
    expect(isSound(found)).toBe(true)
    // 6 specimens of 320 samples (one of 640) in three columns, twice: and the readings and the comparison besides.
    expect(found.figures).toBeGreaterThan(7 * 320 * 3 * 2)
    expect(found.fingerprint).toBe(await sha256(files.get('datapackage.json')!))
  })

  test('is sound as a zip, and packed anew by a person in a folder of its own', async () => {
    const zip = await wholeZip(streamOf(files), '2026-05-04T14:20:00Z')
    const source = good(await openZip(zipInMemory('handles.zip', zip)))
    expect(isSound(good(await verifyPackage(source, sha256, openText)))).toBe(true)
    const nested = new Map([...files].map(([path, bytes]) => [`handles/${path}`, bytes]))
    expect(isSound(await verified(nested))).toBe(true)
  })

  test.each([
    ['licence', { licenses: [{ name: 'CC0-1.0' }] }],
    ['author', { contributors: [{ title: 'Somebody Else', role: 'author' }] }],
    ['title', { title: 'Other handles' }],
  ])('whose %s was changed in its descriptor is told so; laid out anew it is the same', async (_, part) => {
    const descriptor = jsonOf(files, 'datapackage.json')
    const withText = (text: string) => new Map(files).set('datapackage.json', bytesOf(text))
    expect((await verified(withText(JSON.stringify({ ...descriptor, ...part })))).fileFindings).toMatchObject(
      [{ path: 'datapackage.json', what: 'changed' }],
    )
    expect((await verified(withText(JSON.stringify(descriptor)))).fileFindings).toEqual([])
    // Earlier programs gave no hash of it.
    const { hash: _hash, ...own } = descriptor.tenterhook
    const earlier = withText(JSON.stringify({ ...descriptor, ...part, tenterhook: own }))
    expect((await verified(earlier)).fileFindings).toEqual([])
  })

  test.each(['README.md', 'study.json', 'rigs/'])('whose %s was changed is told so', async begins => {
    const path = [...files.keys()].find(one => one.startsWith(begins)) ?? ''
    const bytes = files.get(path)?.slice() ?? new Uint8Array()
    // A letter of a word: it is still the document that it was.
    const at = new TextDecoder('latin1').decode(bytes).search(/Handles|handles|name/i)
    bytes[at] = (bytes[at] ?? 0) ^ 0x20
    const source = sourceOf(new Map(files).set(path, bytes))
    const found = await verifyPackage(source, sha256, openText)
    if (found.ok) expect(found.value.fileFindings).toMatchObject([{ path, what: 'changed' }])
    else expect(found.problems[0]?.where).toContain(path)
  })

  test('is sound with the names of people reduced to initials, which then stand nowhere in it', async () => {
    const reduced = await filesOf(withInitials(madeStudy()))
    expect((await verified(reduced)).differences).toEqual([])
    for (const path of reduced.keys())
      expect({ path, named: textOf(reduced, path).includes('Byron') }).toEqual({ path, named: false })
  })

  test('with another engine is told so, and that is no difference', async () => {
    const older = { ...jsonOf(files, 'study.json'), engine: '0.0.9' }
    const found = await verified(await forged(files, 'study.json', JSON.stringify(older)))
    expect(found.engine).toEqual({ published: '0.0.9', own: expect.any(String) })
    expect(isSound(found)).toBe(true)
  })

  test('is compared again as it was: in blocks, per width, with the doubt of the width', async () => {
    const study = madeStudy()
    const specimens = study.specimens.map((one, i) => ({ ...one, widthMm: 10 + i, batch: i % 2 ? 'b' : 'a' }))
    const compared = specimens.map(specimen => {
      const { name, variant, batch } = specimen
      const facts = { name, group: variant ?? '', block: batch, day: '2026-05-04', order: specimen.widthMm }
      return specimenOfReading(specimen.reading!, 'peakForce', facts).specimen
    })
    const widthOf = (of: Compared) => specimens[compared.indexOf(of)] ?? null
    const divided = good(perDimension(compared, widthOf, { per: 'width', doubtMm: 0.2 }))
    const warnings = [{ code: 'units-differ', text: 'All were turned into newtons.' }]
    const options = { worthShare: 0.03, seed: 11, warnings }
    const comparison = compareGroups(divided.specimens, {
      quantity: 'peakForce',
      unit: divided.unit,
      blocksBy: 'batch',
      control: 'glue',
      ...options,
    })
    expect(comparison.unit).toBe('N/mm')
    const comparedWith = { per: 'width' as const, dimensionDoubtMm: 0.2, shown: null, ...options }
    const told = { ...study, specimens, comparison, comparedWith }
    expect((await verified(await filesOf(told))).differences).toEqual([])
    const other = { ...told, comparedWith: { ...comparedWith, dimensionDoubtMm: 0.4 } }
    const fields = (await verified(await filesOf(other))).differences.map(({ field }) => field)
    expect(fields).toContain('specimens[0].low')
  })
})

describe('a file that was changed', () => {
  test('is named, and so is what follows from it', async () => {
    const found = await verified(new Map(files).set('raw/glue-2/glue-2.csv', madeLog(45)))
    expect(found.fileFindings).toEqual([
      { path: 'raw/glue-2/glue-2.csv', what: 'changed', text: expect.any(String) },
    ])
    const peak = found.differences.find(
      ({ file, field }) => file === 'readings/glue-2.json' && field === 'results.peakForce.valueN',
    )
    // 45 in place of 44 N, by a scale of 1.01.
    expect(peak?.by).toBeCloseTo(1.01, 1)
  })

  test('of the same length is found by its hash', async () => {
    const readme = textOf(files, 'README.md').replace('Handles', 'handles')
    const found = await verified(new Map(files).set('README.md', bytesOf(readme)))
    expect(found.fileFindings).toMatchObject([{ path: 'README.md', what: 'changed' }])
    expect(found.differences).toEqual([])
  })

  test('that is missing or was put in is told', async () => {
    const less = new Map(files).set('raw/extra.csv', bytesOf('1'))
    less.delete('README.md')
    expect((await verified(less)).fileFindings).toMatchObject([
      { path: 'README.md', what: 'missing' },
      { path: 'raw/extra.csv', what: 'not-listed' },
    ])
  })
})

describe('a figure that was forged, hash and all', () => {
  const only = async (path: string, content: string | Uint8Array) => {
    const found = await verified(await forged(files, path, content))
    expect(found.fileFindings).toEqual([])
    expect(isSound(found)).toBe(false)
    return found.differences
  }

  test('in a reading is told with both values', async () => {
    const reading = jsonOf(files, 'readings/thread-1.json')
    const { valueN } = reading.results.peakForce
    reading.results.peakForce.valueN = valueN + 5
    expect(await only('readings/thread-1.json', JSON.stringify(reading))).toEqual([
      {
        file: 'readings/thread-1.json',
        field: 'results.peakForce.valueN',
        published: valueN + 5,
        recomputed: valueN,
        by: valueN - (valueN + 5),
      },
    ])
  })

  test('in the comparison is told', async () => {
    const comparison = jsonOf(files, 'comparison.json')
    comparison.verdict = 'glue holds more than thread'
    comparison.groups[0].mean *= 2
    const fields = (await only('comparison.json', JSON.stringify(comparison))).map(({ field }) => field)
    expect(fields.sort()).toEqual(['groups[0].mean', 'verdict'])
  })

  test('in a table is told by row and column', async () => {
    const rows = textOf(files, 'clean/glue-1.csv').split('\n')
    rows[101] = rows[101]!.replace(/^[^,]*/, '99')
    expect(await only('clean/glue-1.csv', rows.join('\n'))).toMatchObject([
      { file: 'clean/glue-1.csv', field: 'row 101, time_s', published: 99, recomputed: 5 },
    ])
    const table = textOf(files, 'specimens.csv').replace('slipped in the grip', 'broke as it should')
    expect(await only('specimens.csv', table)).toMatchObject([
      { field: 'row 6, status_reason', published: 'broke as it should', recomputed: 'slipped in the grip' },
    ])
  })

  test('in a Parquet file is told', async () => {
    expect(await only('clean/glue-1.parquet', files.get('clean/glue-2.parquet')!)).toEqual(
      expect.arrayContaining([
        expect.objectContaining({ field: expect.stringMatching(/^row \d+, force_N$/) }),
      ]),
    )
    expect(await only('clean/glue-1.parquet', bytesOf('PAR1'))).toMatchObject([{ field: 'file' }])
  })

  test('within the last digits of a number is the same figure', async () => {
    const reading = jsonOf(files, 'readings/thread-1.json')
    reading.results.peakForce.valueN *= 1 + 1e-12
    const found = await verified(await forged(files, 'readings/thread-1.json', JSON.stringify(reading)))
    expect(isSound(found)).toBe(true)
  })
})

describe('a reading without its raw data', () => {
  test('cannot be made again, and that is told', async () => {
    const study = madeStudy()
    const specimens = study.specimens.map((one, i) => (i === 0 ? { ...one, logs: [], recording: null } : one))
    const found = await verified(await filesOf({ ...study, specimens }))
    expect(found.notMade.map(({ where, what }) => `${where}: ${what}`).join('\n')).toMatch(/glue 1.*raw/)
    expect(isSound(found)).toBe(false)
  })
})

describe('what is no package', () => {
  test('is told so', async () => {
    expect(await refusal(new Map([['a.csv', bytesOf('1')]]))).toContain('there is no datapackage.json')
    expect(await refusal(new Map([['datapackage.json', bytesOf('{"resources": []}')]]))).toContain(
      'not one of a Tenterhook study',
    )
    expect(await refusal(new Map([['datapackage.json', bytesOf('{"tenterhook": ')]]))).toContain('not JSON')
  })

  test('may not reach out of its folder', async () => {
    const descriptor = jsonOf(files, 'datapackage.json')
    descriptor.resources[0].path = '../../README.md'
    const changed = new Map(files).set('datapackage.json', bytesOf(JSON.stringify(descriptor)))
    expect(await refusal(changed)).toContain('leaves its folder')
  })

  test('of a later version, or with files that it names but does not hold, is told so', async () => {
    const study = jsonOf(files, 'study.json')
    const later = await forged(files, 'study.json', JSON.stringify({ ...study, version: 2 }))
    expect(await refusal(later)).toMatch(/study\.json, version/)
    study.specimens[0].logs[0].path = 'raw/nowhere.csv'
    expect(await refusal(await forged(files, 'study.json', JSON.stringify(study)))).toContain(
      'raw/nowhere.csv',
    )
  })

  test('with adjustments that are not those of its reading is told so', async () => {
    const adjustments = jsonOf(files, 'adjustments/glue-1.json')
    adjustments.adjustments[0].toS = 2
    const changed = await forged(files, 'adjustments/glue-1.json', JSON.stringify(adjustments))
    expect(await refusal(changed)).toContain('its adjustments are not those of')
  })
})

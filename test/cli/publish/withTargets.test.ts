import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Command } from 'commander'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { writeDemo } from '../../../src/cli/demo/writeDemo.ts'
import { EXIT } from '../../../src/cli/io.ts'
import type { ClipTargets } from '../../../src/cli/publish/clipTarget.ts'
import { addTargetOptions, type TargetFlags } from '../../../src/cli/publish/targetOptions.ts'
import { withTargets } from '../../../src/cli/publish/withTargets.ts'
import type { Adjustment } from '../../../src/core/reading/adjustment.ts'
import { elementsOf } from '../../../src/core/reading/elementsOf.ts'
import { studyOf } from '../../../src/server/publishedStudy.ts'
import { keepReading } from '../../../src/server/specimenReading.ts'
import { wavFile } from '../../publish/sync/sounds.ts'
import { good, openAt } from '../../store/stores.ts'
import { ran } from '../fakeIo.ts'

let folder = ''
let table = ''
let store = ''
const at = (name: string): string => join(folder, name)
/** One log of the first, two of the second. */
let dots = ''
let stitched: readonly string[] = []

const counted: Adjustment = {
  id: 'counted',
  kind: 'elements',
  count: 7,
  who: 'Ada Tester',
  when: '2026-05-04T14:20:00Z',
  why: 'one dot had no glue',
}

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-targets-'))
  store = at('store')
  const demo = good(await writeDemo(at('demo')))
  table = demo.table
  const logsOf = (name: string) => demo.specimens.find(one => one.name === name)!.paths
  dots = logsOf('hot-melt-1')[0]!
  stitched = logsOf('stitching-3')
  const document = { document: 'tenterhook.adjustments', version: 1, adjustments: [counted] }
  writeFileSync(at('seven.json'), JSON.stringify(document))
  const imported = await ran(['import', '--store', store, '--study', 'Bags', '--variant', 'hot-melt', dots])
  expect(imported.code, imported.err).toBe(0)
  const open = await openAt(store)
  const study = good(await studyOf(open, 'Bags'))
  const [specimen] = await open.specimens.list(study.id)
  good(await open.specimens.update(specimen!.id, { name: 'dots, the first' }))
  good(await keepReading(open, specimen!.id, [counted]))
  await open.close()
}, 60_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** What a command would get for these words; what was told on standard error where it gets nothing. */
async function targetsOfWords(words: readonly string[]) {
  let found: ClipTargets | null = null
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
  let code = -1
  const command = addTargetOptions(new Command())
    .argument('[log...]')
    .exitOverride()
    .configureOutput({ writeErr: () => {} })
    .action(async (files: string[], flags: TargetFlags) => {
      code = await withTargets(files, flags, io, async targets => {
        found = targets
        return EXIT.ok
      })
    })
  await command.parseAsync(words, { from: 'user' })
  const told = found as ClipTargets | null
  return { code, err, named: told?.named, targets: told?.targets ?? [] }
}

const facts = (found: Awaited<ReturnType<typeof targetsOfWords>>) =>
  found.targets.map(({ name, unit, reading }) => ({
    name,
    unit,
    elements: elementsOf(reading),
    adjusted: (reading.adjustments ?? []).map(one => one.id),
  }))

describe('plain logs', () => {
  test('are specimens with the names of their files', async () => {
    const found = await targetsOfWords(['--elements', '8', dots, ...stitched])
    expect(found.named).toBe(true)
    expect(facts(found)).toEqual(
      ['hot-melt-1', 'stitching-3', 'stitching-3-log2'].map(name => ({
        name,
        unit: 'kgf',
        elements: 8,
        adjusted: [],
      })),
    )
  })
  test('are one where asked so, and read with adjustments', async () => {
    const found = await targetsOfWords([
      '--specimen',
      '--show',
      'N',
      ...stitched,
      '--adjust',
      at('seven.json'),
    ])
    expect(facts(found)).toMatchObject([{ name: 'stitching-3', unit: 'N', adjusted: ['counted'] }])
    const second = await targetsOfWords([dots, stitched[0]!, '--adjust', `stitching-3=${at('seven.json')}`])
    expect(facts(second).map(one => one.adjusted)).toEqual([[], ['counted']])
  })
  test.each([
    [
      'which of two',
      () => [dots, stitched[0]!, '--adjust', at('seven.json')],
      EXIT.input,
      'which of 2 specimens',
    ],
    ['one not there', () => [dots, '--adjust', `x=${at('seven.json')}`], EXIT.input, '“hot-melt-1”'],
    ['a file not there', () => [dots, '--adjust', at('none.json')], EXIT.input, 'none.json'],
    ['a choice without a study', () => [dots, '--only', 'x'], EXIT.usage, '--study'],
    ['nothing at all', () => [], EXIT.usage, '--study'],
    ['both', () => [dots, '--study', 'Bags'], EXIT.usage, 'not both'],
  ])('%s is told', async (_, words, code, said) => {
    const found = await targetsOfWords(words())
    expect(found.code).toBe(code)
    expect(found.err).toContain(said)
  })
})

describe('a study of files', () => {
  test('names its specimens, joins their logs and knows their elements', async () => {
    const words = ['--specimens', table, '--adjust', `hot-melt-1=${at('seven.json')}`, dots, ...stitched]
    const found = await targetsOfWords(words)
    expect(found.named).toBe(false)
    expect(facts(found)).toEqual([
      { name: 'hot-melt-1', unit: 'kgf', elements: 7, adjusted: ['counted'] },
      { name: 'stitching-3', unit: 'kgf', elements: 14, adjusted: [] },
    ])
    const alone = await targetsOfWords([...words, '--only', 'stitching-3', '--show', 'N'])
    expect(alone.named).toBe(true)
    expect(facts(alone)).toMatchObject([{ name: 'stitching-3', unit: 'N' }])
  })
  test('a specimen that it has not, and readings without a curve, are told', async () => {
    const none = await targetsOfWords(['--specimens', table, dots, '--only', 'x'])
    expect(none.err).toContain('“hot-melt-1”')
    writeFileSync(at('r.json'), (await ran(['read', '--json', '--specimens', table, dots])).out)
    const bare = await targetsOfWords(['--specimens', table, at('r.json')])
    expect(bare.code).toBe(EXIT.input)
    expect(bare.err).toContain('no specimen has a curve')
  })
  test.each([
    [['--specimens', 't.csv', '--elements', '8', 'a.csv']],
    [['--by', '{variant}-{n}', '--specimen', 'a.csv']],
    [['--study', 'x', '--adjust', 'a.json']],
  ])('%j cannot go together', async words =>
    expect(targetsOfWords(words)).rejects.toMatchObject({ code: 'commander.conflictingOption' }),
  )
})

describe('a study of the store', () => {
  const ofStore = () => ['--study', 'Bags', '--store', store]

  test('is shown as it was read there, with its adjustments', async () => {
    expect(facts(await targetsOfWords(ofStore()))).toEqual([
      { name: 'dots, the first', unit: 'kgf', elements: 7, adjusted: ['counted'] },
    ])
  })
  test('overlay and retrace name it and count its elements', async () => {
    const words = [...ofStore(), '--only', 'dots, the first', '--out']
    const small = ['--size', '128x72', '--fps', '5', '--length', '0.4']
    const overlay = await ran(['overlay', ...words, at('pictures'), ...small])
    expect(overlay.code, overlay.err).toBe(0)
    expect(readdirSync(at('pictures'))).toHaveLength(3)
    const retrace = await ran(['retrace', ...words, at('steps'), '--pictures', 'svg', '--json'])
    expect(retrace.code, retrace.err).toBe(0)
    const { steps } = JSON.parse(retrace.out) as { steps: { file: string; sentence: string }[] }
    expect(steps.some(step => step.sentence.endsWith('of 7.'))).toBe(true)
    expect(readFileSync(at(`steps/${steps[0]!.file}`), 'utf8')).toContain('dots, the first')
  })
  test('is placed in a clip, and captioned, by the same document as its log', async () => {
    writeFileSync(at('still.wav'), wavFile(new Float64Array(8000), { rateHz: 8000, channels: 1, bits: 16 }))
    const words = ['--offset', '3', '--out']
    const placed = await ran(['sync', at('still.wav'), ...ofStore(), ...words, at('store.json')])
    expect(placed.code, placed.err).toBe(0)
    await ran(['sync', at('still.wav'), dots, ...words, at('log.json')])
    const placements = (name: string) => JSON.parse(readFileSync(at(name), 'utf8')).placements
    expect(placements('store.json')).toEqual(placements('log.json'))
    const told = await ran([
      'captions',
      ...ofStore(),
      ...['--sync', at('log.json'), '--length', '30', '--out', at('a.vtt')],
    ])
    expect(told.code, told.err).toBe(0)
    expect(readFileSync(at('a.vtt'), 'utf8')).toContain(' of 7')
  })
  test('retrace asks which one, and a clip may show some of a study', async () => {
    const words = ['--specimens', table, dots, ...stitched]
    const which = await ran(['retrace', ...words, '--out', at('which')])
    expect(which.code).toBe(EXIT.input)
    expect(which.err).toContain('“hot-melt-1”, “stitching-3”')
    await ran(['sync', at('still.wav'), dots, '--offset', '3', '--out', at('one.json')])
    const captions = ['captions', ...words, '--sync', at('one.json'), '--length', '30', '--out', at('b.vtt')]
    expect((await ran(captions)).code).toBe(EXIT.ok)
    const asked = await ran([...captions, '--only', 'stitching-3'])
    expect(asked.code).toBe(EXIT.input)
    expect(asked.err).toContain('no place in this clip')
  })
})

import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { EXIT } from '../../src/cli/io.ts'
import { RIG_OF_EDITS } from '../store/anyEdits.ts'
import { ran } from './fakeIo.ts'
import { withInput } from './withInput.ts'

/** `-` is standard input wherever a command takes a file: what it says is what it says of the file. */

let folder = ''
const at = (name: string) => join(folder, name)

const pullLog = (topN: number): string =>
  `time_s,force_N\n${Array.from({ length: 300 }, (_, i) => {
    const force = i < 60 || i >= 240 ? 0 : ((i - 60) / 180) * topN
    return `${(i / 20).toFixed(2)},${(force + 0.02 * (((i * 7919) % 13) / 13)).toFixed(3)}`
  }).join('\n')}\n`

/** A file of the name that standard input goes by. */
const INPUT = 'standard input'

const FILES: Readonly<Record<string, string>> = {
  [INPUT]: pullLog(51),
  'a-1.csv': pullLog(50),
  'a-2.csv': pullLog(52),
  'b-1.csv': pullLog(70),
  'b-2.csv': pullLog(73),
  'specimens.csv': `file,specimen,variant\n${['a-1', 'a-2', 'b-1', 'b-2'].map(n => `${n}.csv,${n},${n[0]}`).join('\n')}\n`,
  'values.csv': 'glue,peak\na,50\na,52\na,51\nb,70\nb,73\nb,71\n',
  'like.csv': 'glue,peak\na,1\na,1.1\nb,2\nb,2.1\nc,3\nc,3.2\n',
  'points.csv': `mass (kg),reading (counts)\n${[0, 2, 4, 6, 8, 10].map(kg => `${kg},${kg * 1000 + (kg % 3)}`).join('\n')}\n`,
  'rig.json': JSON.stringify({ name: 'bench', cell: { capacityN: 200 }, strokeMm: 60 }),
  'adjust.json': JSON.stringify({
    document: 'tenterhook.adjustments',
    version: 1,
    adjustments: [
      { id: 'e', kind: 'elements', count: 3, who: 'Ada', when: '2026-05-04T12:00:00Z', why: 'counted' },
    ],
  }),
  'cells.csv': 'specimen,width_mm\na-1,20\n',
  'peaks.csv': 'specimen,variant,peak\nt-1,tape,44\n',
  'scale.json': JSON.stringify(RIG_OF_EDITS.calibrations[0]),
  'method.txt': 'Glued on one day.',
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-stdin-'))
  for (const [name, text] of Object.entries(FILES)) await writeFile(at(name), text)
  const read = await ran(['read', '--json', '--specimens', at('specimens.csv'), at('a-1.csv'), at('b-1.csv')])
  await writeFile(at('readings.jsonl'), read.out)
  const rig = ['calibrate', at('points.csv'), '--gravity', '9.81', '--save', at('calibrated.json')]
  expect((await ran(rig)).code).toBe(EXIT.ok)
  const packed = ['package', '--specimens', at('specimens.csv'), '--out', at('study.zip')]
  const done = await ran([...packed, ...['a-1', 'a-2', 'b-1', 'b-2'].map(n => at(`${n}.csv`))])
  expect(done.code, done.err).toBe(EXIT.ok)
}, 60_000)
afterAll(() => rm(folder, { recursive: true, force: true }))

/** A store of its own with the study Handles, made anew for each run. */
async function freshStore(): Promise<string[]> {
  const store = ['--store', await mkdtemp(join(folder, 'store-'))]
  const imported = await ran(['import', '--study', 'Handles', '--variant', 'a', at('a-1.csv'), ...store])
  expect(imported.code, imported.err).toBe(EXIT.ok)
  return store
}

const LOGS = ['a-1.csv', 'a-2.csv', 'b-1.csv', 'b-2.csv']

/** `@name` is a file; `@@name` (`@@LOG`: a log of a plain name) the one that comes from standard input in the second run. `%store`: a fresh store. */
const TABLE: readonly (readonly [string, string])[] = [
  ['a log that is read', 'read --json @@a-1.csv'],
  ['the rig of a log', 'read --json --rig @@rig.json @a-1.csv'],
  ['the specimens of a log', 'read --json --specimens @@specimens.csv @a-1.csv'],
  ['adjustments', 'read --json --adjust @@adjust.json @a-1.csv'],
  ['readings that are compared', 'compare --json @@readings.jsonl'],
  ['a table of values', 'compare --json --table @@values.csv'],
  ['a table of like specimens', 'compare --json --table @values.csv --like @@like.csv'],
  ['the table of specimens', 'compare --json --specimens @@specimens.csv @logs'],
  ['the rig of what is compared', 'compare --json --rig @@rig.json --specimens @specimens.csv @logs'],
  ['points of a calibration', 'calibrate --json --gravity 9.81 @@points.csv'],
  ['a rig that is shown', 'rig show --json @@rig.json'],
  [
    'the rig of a plan',
    'plan --json --variants a,b --mean 50 --difference 10 --each 5 --seed 1 --rig @@rig.json',
  ],
  ['cells of specimens', 'specimen set --json --study Handles @@cells.csv %store'],
  ['typed peaks', 'specimen type --json --study Handles @@peaks.csv %store'],
  ['the rig of recordings', 'specimen rig --json --study Handles --rig @@rig.json %store'],
  ['the readings of a report', 'report --specimens @@specimens.csv @logs --out'],
  ['the log of a report', 'report --name Bags @@LOG --out'],
  ['the method of a report', 'report --method @@method.txt @a-1.csv --out'],
  ['the log of a figure', 'figure pull @@LOG --out'],
  ['the rig of a figure', 'figure calibration --rig @@calibrated.json --out'],
  ['the log of captions', 'captions @@LOG --nudge 1 --out'],
  ['a package that is proved', 'verify --json @@study.zip'],
  ['a package that is taken in', 'import --json @@study.zip %store'],
  ['a log that is taken in', 'import --json --study Other @@b-1.csv %store'],
]

/** What stands for itself only: ids, moments, names of the source. */
const bare = (text: string): string =>
  text
    .replaceAll(folder, '')
    .replace(/\/?\b(a-1|b-1|points|study)(\.csv|\.zip)?\b/g, 'LOG')
    .replace(/standard input/g, 'LOG')
    .replace(/out-\w+/g, 'OUT')
    .replace(/"-"/g, '"LOG"')
    .replace(/"(id|studyId)":"[0-9a-z]+"/g, '"$1":"ID"')
    .replace(/\d{4}-\d\d-\d\d[T ]\d\d:\d\d(:[\d.]+)?Z?/g, 'WHEN')

describe.each(TABLE)('%s', (_, line) => {
  test(line, async () => {
    const said = async (fromInput: boolean) => {
      const store = line.includes('%store') ? await freshStore() : []
      const out = join(await mkdtemp(join(folder, 'out-')), 'out.svg')
      let piped = ''
      const words = line.split(' ').flatMap(word => {
        if (word === '%store') return store
        if (word === '@logs') return LOGS.map(at)
        if (word === '--out')
          return [
            '--out',
            line.startsWith('report')
              ? out.replace('svg', 'html')
              : line.startsWith('captions')
                ? out.replace('svg', 'srt')
                : out,
          ]
        if (word.startsWith('@@')) {
          piped = word.slice(2) === 'LOG' ? INPUT : word.slice(2)
          return [fromInput ? '-' : at(piped)]
        }
        return [word.startsWith('@') ? at(word.slice(1)) : word]
      })
      const done = await withInput(await readFile(at(piped)), () => ran(words))
      expect(done.code, done.err).toBe(EXIT.ok)
      const made = words.includes('--out') ? await readFile(words[words.indexOf('--out') + 1]!, 'utf8') : ''
      return bare(done.out + made)
    }
    expect(await said(true)).toBe(await said(false))
  })
})

import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { EXIT } from '../../src/cli/io.ts'
import { ran } from './fakeIo.ts'
import { withInput } from './withInput.ts'

/** What every command takes: a study of the store as well as files, and `-` for a file that it writes. */

let folder = ''
const at = (name: string) => join(folder, name)
const NAMES = ['a-1', 'a-2', 'a-3', 'b-1', 'b-2', 'b-3']
const pullLog = (topN: number): string =>
  `time_s,force_N\n${Array.from({ length: 300 }, (_, i) => {
    const force = i < 60 || i >= 240 ? 0 : ((i - 60) / 180) * topN
    return `${(i / 20).toFixed(2)},${(force + 0.02 * (((i * 7919) % 13) / 13)).toFixed(3)}`
  }).join('\n')}\n`
let store: string[] = []
let files: string[] = []
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-every-'))
  const tops = [50, 52, 51, 70, 73, 71]
  for (const [i, name] of NAMES.entries()) await writeFile(at(`${name}.csv`), pullLog(tops[i]!))
  const rows = NAMES.map(name => `${name}.csv,${name},${name[0]}`)
  await writeFile(at('specimens.csv'), `file,specimen,variant\n${rows.join('\n')}\n`)
  const masses = [0, 2, 4, 6, 8, 10].map(kg => `${kg},${(kg * 9.81).toFixed(2)}`)
  await writeFile(at('points.csv'), `mass (kg),reading (N)\n${masses.join('\n')}\n`)
  const calibrated = ['calibrate', at('points.csv'), '--gravity', '9.81', '--date', '2026-05-01']
  expect((await ran([...calibrated, '--save', at('rig.json')])).code).toBe(EXIT.ok)
  await writeFile(at('rig.checks.jsonl'), '')
  const checked = await ran(
    ['check', '--rig', at('rig.json'), '--mass', '1.000kg', '--gravity', '9.81', '--reading', '9.81'].concat([
      '--at',
      '2026-05-02T08:00:00Z',
    ]),
  )
  expect(checked.code, checked.err).toBe(EXIT.ok)
  store = ['--store', at('store')]
  for (const variant of ['a', 'b']) {
    const logs = NAMES.filter(name => name.startsWith(variant)).map(name => at(`${name}.csv`))
    const words = ['import', '--study', 'Handles', '--variant', variant, '--rig', at('rig.json'), ...logs]
    const taken = await ran([...words, ...store])
    expect(taken.code, taken.err).toBe(EXIT.ok)
  }
  files = [
    '--specimens',
    at('specimens.csv'),
    '--rig',
    at('rig.json'),
    ...NAMES.map(name => at(`${name}.csv`)),
  ]
}, 60_000)
afterAll(() => rm(folder, { recursive: true, force: true }))

/** What stands for itself only. */
const bare = (text: string): string =>
  text
    .replaceAll(folder, '')
    .replace(/out-\w+/g, 'OUT')
    .replace(/\d{4}-\d\d-\d\d[T ]\d\d:\d\d(:[\d.]+)?Z?/g, 'WHEN')
    .replace(/\((6) (specimens of “Handles”|readings, variants by the table of specimens)\)/, '($1)')

/** Commands on a study. `--out` and `--figure` get a file, which is looked at as well. `+name`: only with files, which do not tell it. */
const OF_A_STUDY: readonly string[] = [
  'compare',
  'compare --json',
  'compare --quantity work --json',
  'compare --figure x.svg',
  'compare --draw weibull --figure x.svg',
  'compare --draw overlay --figure x.svg',
  ...['answer', 'pull', 'variant', 'dots', 'overlay', 'weibull'].map(
    kind => `figure ${kind} +name --out x.svg`,
  ),
  'figure calibration +name --out x.svg',
  'report +name --out x.html',
  'report --one-page +name --out x.html',
  'report +name --out x.md',
  'package --json --made-at 2026-05-04T14:20:00Z +name --out x.zip',
  'captions --nudge 1 --only a-1 --out x.srt',
]

describe('a study of the store and the same as files', () => {
  test.each(OF_A_STUDY)('%s', async line => {
    const said = async (isStored: boolean) => {
      let out = ''
      const place = await mkdtemp(at('out-'))
      const words = line.split(' ').flatMap(word => {
        if (word === '+name') return isStored ? [] : ['--name', 'Handles']
        if (!word.startsWith('x.')) return [word]
        out = join(place, word)
        return [out]
      })
      const done = await ran([...words, ...(isStored ? ['--study', 'Handles', ...store] : files)])
      expect(done.code, done.err).toBe(EXIT.ok)
      const made = out === '' || out.endsWith('.zip') ? '' : await readFile(out, 'utf8')
      return bare(done.out + made)
    }
    expect(await said(true)).toBe(await said(false))
  })
  test('both at once are refused', async () => {
    for (const line of [
      'compare',
      'figure dots --out x.svg',
      'report --out x.html',
      'captions --out x.vtt',
    ]) {
      const both = await ran([...line.split(' '), '--study', 'Handles', ...store, at('a-1.csv')])
      expect(both.code, line).toBe(EXIT.usage)
    }
  })
})

/** Standard output as bytes: what is written to it past the terminal of the command. */
async function written(
  words: readonly string[],
): Promise<{ bytes: Buffer; out: string; code: number; err: string }> {
  const parts: Buffer[] = []
  const { write } = process.stdout
  process.stdout.write = ((chunk: string | Uint8Array, ...more: unknown[]) => {
    parts.push(Buffer.from(chunk as Uint8Array))
    for (const then of more) if (typeof then === 'function') (then as () => void)()
    return true
  }) as typeof write
  try {
    const done = await ran(words)
    return { bytes: Buffer.concat(parts), ...done }
  } finally {
    process.stdout.write = write
  }
}

/** How a file of each kind begins. */
const BEGINS = {
  svg: '<svg ',
  html: '<!doctype html>',
  zip: 'PK',
  vtt: 'WEBVTT',
  gzip: '\u001f\u008b',
  csv: 'time_s,',
  parquet: 'PAR1',
}
const TO_OUTPUT: readonly (readonly [string, keyof typeof BEGINS])[] = [
  ['figure dots --study Handles %store --out -', 'svg'],
  ['compare --study Handles %store --figure -', 'svg'],
  ['read @a-1.csv --figure -', 'svg'],
  ['check --rig @rig.json --mass 1.000kg --gravity 9.81 --reading 9.81 --dry-run --figure -', 'svg'],
  ['report --study Handles %store --out -', 'html'],
  ['package --study Handles %store --out -', 'zip'],
  ['captions --study Handles --only a-1 %store --nudge 1 --out -', 'vtt'],
  ['export --all %store --out -', 'gzip'],
  ['export %first --as log --out - %store', 'csv'],
  ['export %first --as csv --out - %store', 'csv'],
  ['export %first --as parquet --out - %store', 'parquet'],
]

describe('- is standard output, and the output is the file alone', () => {
  test.each(TO_OUTPUT)('%s', async (line, kind) => {
    const listed = await ran(['list', '--json', ...store])
    const [first] = (JSON.parse(listed.out) as { recordings: { id: string }[] }).recordings
    const words = line.split(' ').flatMap(word => {
      if (word === '%store') return store
      if (word === '%first') return [first!.id]
      return [word.startsWith('@') ? at(word.slice(1)) : word]
    })
    const { bytes, out, code, err } = await written(words)
    expect(code, err).toBe(EXIT.ok)
    expect(bytes.toString('latin1').startsWith(BEGINS[kind])).toBe(true)
    expect(out).toBe('')
  })
  test('a clip is files, and says so', async () => {
    for (const command of ['overlay', 'retrace']) {
      const refused = await ran([command, at('a-1.csv'), '--out', '-'])
      expect(refused.code, command).toBe(EXIT.usage)
      expect(refused.err).toContain('A clip is written as .webm or .mov')
    }
  })
  test('a backup and a whole store go through pipes and come back', async () => {
    const saved = await written(['backup', '-', ...store])
    expect(saved.code, saved.err).toBe(EXIT.ok)
    expect(saved.out).toBe('')
    const list = async (one: readonly string[]) => (await ran(['list', '--json', ...one])).out
    const restored = ['--store', at('restored')]
    const back = await withInput(saved.bytes, () => ran(['restore', '-', ...restored]))
    expect(back.code, back.err).toBe(EXIT.ok)
    expect(await list(restored)).toBe(await list(store))
    const whole = await written(['export', '--all', '--out', '-', ...store])
    const moved = ['--store', at('moved')]
    const taken = await withInput(whole.bytes, () => ran(['import', '--all', '-', ...moved]))
    expect(taken.code, taken.err).toBe(EXIT.ok)
    expect(JSON.parse(await list(moved))).toMatchObject(JSON.parse(await list(store)))
  })
})

/** Where each command has its study from, so that a new one is not forgotten. */
const OTHERS: Readonly<Record<string, string>> = {
  read: 'logs: their readings are what a study is made of',
  calibrate: 'points or logs of known loads',
  check: 'a rig and a log of a known load',
  rig: 'a rig',
  plan: 'what is to be pulled, before there is a study of it',
  record: 'a line; --study says where it goes',
  ports: 'this computer',
  import: 'files; --study says where they go',
  specimen: 'a study of the store alone',
  timeline: 'a study of the store, or a table of values with its days',
  list: 'the store',
  show: 'a recording of the store',
  export: 'a recording of the store',
  backup: 'the store',
  restore: 'the store',
  verify: 'a package or the store',
  start: 'the app',
  demo: 'an invented study',
  overlay: 'as captions, whose specimens it shares',
  retrace: 'as captions, whose specimens it shares',
  sync: 'as captions, whose specimens it shares',
}

test('no command is left out of what is looked at here', async () => {
  const { out } = await ran(['--help'])
  const all = [...out.matchAll(/^ {2}([a-z]+) {2,}/gm)].map(([, name]) => name!)
  const seen = new Set([...OF_A_STUDY.map(line => line.split(' ')[0]!), ...Object.keys(OTHERS)])
  expect(all.filter(name => !seen.has(name))).toEqual([])
  for (const name of ['overlay', 'retrace', 'sync', 'timeline']) {
    const help = (await ran([name, '--help'])).out
    expect(help, name).toMatch(/--study <name>/)
    expect(help, name).toMatch(name === 'timeline' ? /--table <file>/ : /--specimens <table>/)
  }
})

test('a log in JSON Lines given for readings is told once what it is and what to do', async () => {
  const log = at('log.jsonl')
  await writeFile(log, Array.from({ length: 40 }, (_, i) => `{"t_s":${i / 10},"force_N":${i}}`).join('\n'))
  for (const command of [
    ['compare'],
    ['figure', 'dots', '--out', at('no.svg')],
    ['report', '--out', at('no.html')],
  ]) {
    const { code, err } = await ran([...command, log])
    expect(code, command[0]).toBe(EXIT.input)
    expect(err.trim().split('\n'), command[0]).toHaveLength(1)
    expect(err).toContain('it looks like a log')
  }
})

test('list tells apart when it was recorded and when it was taken in', async () => {
  await writeFile(
    at('dated.csv'),
    `at,force_N\n${Array.from({ length: 60 }, (_, i) => `${new Date(Date.UTC(2026, 2, 3, 9) + 100 * i).toISOString()},${i % 50}`).join('\n')}\n`,
  )
  const own = ['--store', at('dated')]
  expect((await ran(['import', at('dated.csv'), at('a-1.csv'), ...own])).code).toBe(EXIT.ok)
  const [heads, ...rows] = (await ran(['list', ...own])).out.trimEnd().split('\n')
  expect(heads).toMatch(/recorded +taken in/)
  const today = new Date().toISOString().slice(0, 10)
  expect(rows.find(row => row.includes('dated.csv'))).toMatch(new RegExp(`2026-03-03 09:00 +${today}`))
  expect(rows.find(row => row.includes('a-1.csv'))).toMatch(new RegExp(`not told +${today}`))
})

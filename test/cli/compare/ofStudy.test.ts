import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { EXIT } from '../../../src/cli/io.ts'
import { ran } from '../fakeIo.ts'

/** What is compared from the store must be what is compared from files, with every option that files take. */

const SPECIMENS = [10, 20, 30].flatMap((mm, v) =>
  [1, 2, 3].map(n => ({
    name: `${mm}-${n}`,
    variant: `${mm} mm`,
    topN: 30 + 12 * v + 2.5 * ((n * 5 + v) % 4),
    widthMm: 18 + n + v,
    batch: `b${n}`,
  })),
)

let folder = ''
let store: string[] = []
let logs: string[] = []
const at = (name: string) => join(folder, name)

/** Rest, an even rise to `topN`, a break, rest; with a little unrest. */
const pullLog = (topN: number): string =>
  `time_s,force_N\n${Array.from({ length: 300 }, (_, i) => {
    const force = i < 60 || i >= 240 ? 0 : ((i - 60) / 180) * topN
    return `${(i / 20).toFixed(2)},${(force + 0.02 * (((i * 7919) % 13) / 13)).toFixed(3)}`
  }).join('\n')}\n`

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-of-study-'))
  store = ['--store', at('store')]
  logs = SPECIMENS.map(({ name }) => at(`${name}.csv`))
  await Promise.all(SPECIMENS.map(({ topN }, i) => writeFile(logs[i]!, pullLog(topN))))
  const rows = SPECIMENS.map(one => `${one.name}.csv,${one.name},${one.variant},${one.widthMm},${one.batch}`)
  await writeFile(at('table.csv'), `file,specimen,variant,width_mm,batch\n${rows.join('\n')}\n`)
  for (const variant of ['10 mm', '20 mm', '30 mm']) {
    const own = SPECIMENS.filter(one => one.variant === variant).map(({ name }) => at(`${name}.csv`))
    expect((await ran(['import', '--study', 'Laps', '--variant', variant, ...own, ...store])).code).toBe(0)
  }
  const cells = SPECIMENS.map(one => `${one.name},${one.widthMm},${one.batch}`)
  await writeFile(at('cells.csv'), `specimen,width_mm,batch\n${cells.join('\n')}\n`)
  const set = await ran(['specimen', 'set', '--study', 'Laps', at('cells.csv'), ...store])
  expect(set.code, set.err).toBe(EXIT.ok)
  const like = ['a,1', 'a,1.1', 'b,2', 'b,2.1', 'c,3', 'c,3.2', 'd,5', 'd,5.2'].join('\n')
  await writeFile(at('like.csv'), `glue,peak\n${like}\n`)
}, 60_000)
afterAll(() => rm(folder, { recursive: true, force: true }))

/** The two answers, the places of the specimens' own files left out. */
async function both(...options: string[]) {
  const compared = async (...of: string[]) => {
    const { code, out, err } = await ran(['compare', '--json', ...of, ...options])
    expect(code, err).toBe(EXIT.ok)
    return JSON.parse(out) as object
  }
  const ofStudy = await compared('--study', 'Laps', ...store)
  expect(ofStudy).toEqual(await compared('--specimens', at('table.csv'), ...logs))
  return ofStudy
}

test.each([
  ['nothing more', []],
  ['a look to be followed by others', ['--again']],
  ['a later look', ['--earlier', '2']],
  ['one against all others', ['--against', '20 mm']],
  ['a difference that is worth it', ['--worth', '15%']],
  ['a width taken out', ['--covariate', 'width']],
  ['within batches, with a control', ['--block', 'batch', '--control', '10 mm']],
  ['force per width', ['--per', 'width', '--dimension-doubt', '0.1']],
  ['one left out', ['--drop', '30-2=slipped']],
  ['another quantity', ['--quantity', 'partialBreaks']],
  ['another unit and seed', ['--show', 'kgf', '--seed', '9']],
] as const)('the same from the store as from files: %s', async (_, options) => {
  await both(...options)
})

test('scatter borrowed from like specimens, by the columns of their table', async () => {
  const borrowed = await both('--like', at('like.csv'), '--group', 'glue', '--value', 'peak')
  expect(JSON.stringify(borrowed)).not.toBe(JSON.stringify(await both()))
})

test.each(['dots', 'weibull', 'overlay', 'trend'])('the figure “%s” is the same from both', async what => {
  const drawn = async (name: string, ...of: string[]) => {
    const words = ['compare', '--draw', what, '--figure', at(name), ...of]
    const { code, err } = await ran(words)
    expect(code, err).toBe(EXIT.ok)
    return readFile(at(name), 'utf8')
  }
  const ofStudy = await drawn('study.svg', '--study', 'Laps', ...store)
  expect(ofStudy).toBe(await drawn('files.svg', '--specimens', at('table.csv'), ...logs))
})

test.each([
  'compare --json',
  'list --json',
  'specimen list --json',
  'specimen changes',
  'report --out report.html',
  'package --out package.zip',
  'figure answer --out answer.svg',
  'figure dots --out dots.svg',
  'figure overlay --out overlay.svg',
  'figure weibull --out weibull.svg',
  'figure pull --specimen 20-2 --out pull.svg',
  'figure variant --specimen 20-2 --out variant.svg',
  'captions --only 20-2 --out captions.srt',
  'timeline --json --control 10-mm',
])('%s takes a study of the store, by its name and by its id', async line => {
  const listed = JSON.parse((await ran(['list', '--json', ...store])).out) as { recordings: unknown[] }
  expect(listed.recordings).toHaveLength(9)
  const id = /"studyId":"(\w+)"/.exec(
    (await ran(['specimen', 'list', '--json', '--study', 'Laps', ...store])).out,
  )?.[1]
  const words = line
    .split(' ')
    .map(word => (/\.(html|zip|svg|srt)$/.test(word) ? at(word) : word.replace('10-mm', '10 mm')))
  const by = async (study: string) => {
    const done = await ran([...words, '--study', study, ...store])
    expect(done.code, done.err).toBe(EXIT.ok)
    const file = words.includes('--out') ? words[words.indexOf('--out') + 1]! : null
    return (
      done.out.replace(/[0-9a-f]{64}/, 'HASH') +
      (file === null || file.endsWith('.zip') ? '' : await readFile(file, 'utf8'))
    )
  }
  expect(await by(id!)).toBe(await by('Laps'))
  const missing = await ran([...words, '--study', 'None', ...store])
  expect(missing.code).toBe(EXIT.input)
  expect(missing.err).toContain('study “None”: the store has no study of that name or id')
})

test('what says how files are to be understood is refused for a study, and nothing is passed over in silence', async () => {
  for (const words of [
    ['--rate', '10'],
    ['--unit', 'kgf'],
    ['--rig', at('rig.json')],
    ['--specimens', at('table.csv')],
    ['--by', '{variant}-{n}.csv'],
  ]) {
    const { code, err } = await ran(['compare', '--study', 'Laps', ...words, ...store])
    expect(code, words[0]).toBe(EXIT.usage)
    expect(err).toContain(`${words[0]} `)
  }
  for (const [words, said] of [
    [['--covariate', 'batch'], '--covariate is width, thickness or length'],
    [['--block', 'moon'], '--block is day, batch or operator'],
    [['--against', 'tape'], 'no group is called “tape”'],
    [['--group', 'glue'], '--group and --value name columns'],
  ] as const) {
    const { code, err } = await ran(['compare', '--study', 'Laps', ...words, ...store])
    expect(code).toBe(EXIT.usage)
    expect(err).toContain(said)
  }
})

import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeEach, expect, test } from 'vitest'
import { EXIT } from '../../../src/cli/io.ts'
import { openAt } from '../../store/stores.ts'
import { ran } from '../fakeIo.ts'

const folders: string[] = []
let folder = ''
let store: string[] = []
const at = (name: string) => join(folder, name)

/** Counts of a pull: rest, an even rise to `top` newton at 10,000 counts each, a break. */
const countsLog = (top: number): string =>
  `time_s,counts\n${Array.from({ length: 300 }, (_, i) => {
    const newton = i < 60 || i >= 240 ? 0 : ((i - 60) / 180) * top
    return `${(i / 20).toFixed(2)},${Math.round(8000 + newton * 1e4 + ((i * 7919) % 13))}`
  }).join('\n')}\n`

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tenterhook-specimens-'))
  folders.push(folder)
  store = ['--store', at('store')]
  for (const [name, top] of [
    ['paste-1', 50],
    ['paste-2', 52],
    ['stitch-1', 80],
    ['stitch-2', 83],
  ] as const)
    await writeFile(at(`${name}.csv`), countsLog(top))
  const files = (kind: string) => [1, 2].map(n => at(`${kind}-${n}.csv`))
  await ran(['import', '--study', 'Handles', '--variant', 'paste', ...files('paste'), ...store])
  // The variant was forgotten.
  await ran(['import', '--study', 'Handles', ...files('stitch'), ...store])
  // The first run loads the whole program.
}, 60_000)
afterAll(() => Promise.all(folders.map(one => rm(one, { recursive: true, force: true }))))

async function done(...words: string[]) {
  const { code, out, err } = await ran(['specimen', ...words, '--study', 'Handles', '--who', 'Ada', ...store])
  expect(code, err).toBe(EXIT.ok)
  return out
}
async function report(): Promise<string> {
  const { code, err } = await ran(['report', '--study', 'Handles', '--out', at('report.html'), ...store])
  expect(code, err).toBe(EXIT.ok)
  return readFile(at('report.html'), 'utf8')
}
const listed = async () =>
  JSON.parse(await done('list', '--json')) as {
    specimens: { name: string; variant: string | null; widthMm: number | null; note: string }[]
    removed: { name: string }[]
  }
const variants = async () =>
  Object.fromEntries((await listed()).specimens.map(one => [one.name, one.variant]))

test('a forgotten variant is listed as not assigned, is in no figure, and is put right by one command', async () => {
  expect(await done('list')).toContain('stitch-1')
  expect(await done('list')).toContain(
    '2 not assigned, and so in no figure. Assign them with: tenterhook specimen move',
  )
  expect(await done('list')).toContain(' --to VARIANT stitch-1 stitch-2\n')
  expect(await report()).toContain('Not assigned to a variant, and so in no figure: stitch-1, stitch-2')
  expect(await done('move', '--to', 'stitch', 'stitch-1', 'stitch-2')).toContain(
    '“stitch-1”, “stitch-2” to “stitch”',
  )
  expect(await variants()).toEqual({
    'paste-1': 'paste',
    'paste-2': 'paste',
    'stitch-1': 'stitch',
    'stitch-2': 'stitch',
  })
  expect(await report()).not.toContain('Not assigned')
})

test('a rig that was described after the logs were imported makes forces of them, every figure before and after', async () => {
  await writeFile(
    at('rig.json'),
    JSON.stringify({
      name: 'bench',
      calibrations: [
        {
          document: 'tenterhook.quick-scale',
          version: 1,
          date: '2026-05-01',
          basis: 'one-mass',
          readingUnit: 'counts',
          newtonPerReading: 1e-4,
          zeroReading: 8_000,
          appliedN: 20,
          doubtPct: 1,
        },
      ],
    }),
  )
  const out = await done('rig', '--rig', at('rig.json'))
  expect(out).toContain('4 recordings made on “bench”')
  expect(out).toMatch(/paste-1: [\d.]+ ± \d+ counts → (49|50)\.\d+ ± [\d.]+ N/)
  const undone = await done('undo')
  expect(undone).toContain('taken back')
  expect(undone).toMatch(/paste-1: (49|50)\.\d+ ± [\d.]+ N → [\d.]+ ± \d+ counts/)
  expect(await done('redo')).toMatch(/paste-1: .* counts → (49|50)/)
})

test('of a rig with several calibrations one is chosen, from the store or from a file, for some or all, with every figure', async () => {
  const scale = (date: string, newtonPerReading: number) => ({
    document: 'tenterhook.quick-scale',
    version: 1,
    date,
    basis: 'one-mass',
    readingUnit: 'counts',
    newtonPerReading,
    zeroReading: 8_000,
    appliedN: 20,
    doubtPct: 1,
  })
  const calibrations = [scale('2026-05-01', 1e-4), scale('2026-06-01', 2e-4)]
  await writeFile(at('rig.json'), JSON.stringify({ name: 'bench', calibrations }))
  const refused = await ran(['specimen', 'calibration', '--study', 'Handles', '--of', '2026-05-01', ...store])
  expect(refused.code).toBe(EXIT.input)
  expect(refused.err).toContain('of 4 of these recordings no rig is told')
  // Their day is not known, so the latest counts: 100 N for what was 50.
  expect(await done('rig', '--rig', at('rig.json'))).toMatch(/paste-1: .* counts → (9|10)\d\.\d+ ± [\d.]+ N/)
  const list = await done('calibration')
  expect(list).toContain('bench: 4 recordings by the calibration of each one’s day')
  expect(list).toContain('2026-06-01 counts 0.0002 8000 1')
  const some = await done('calibration', '--of', '2026-05-01', 'paste-1')
  expect(some).toContain('1 recording by the calibration 2026-05-01')
  expect(some).toMatch(/paste-1: (9|10)\d\.\d+ ± [\d.]+ N → (49|50)\.\d+ ± [\d.]+ N/)
  expect(some).not.toContain('paste-2')
  expect(await done('calibration')).toContain('2026-05-01 counts 0.0001 8000 1  (chosen for 1)')
  await writeFile(at('third.json'), JSON.stringify(scale('2026-07-01', 3e-4)))
  const third = await done('calibration', '--file', at('third.json'))
  expect(third).toMatch(/paste-1: (49|50)\.\d+ ± [\d.]+ N → 1(4|5)\d\.?\d* ± [\d.]+ N/)
  expect(third).toMatch(/stitch-2: 16\d\.?\d* ± [\d.]+ N → 2(4|5)\d\.?\d* ± [\d.]+ N/)
  expect(await done('undo')).toMatch(/paste-1: 1(4|5)\d\.?\d* ± [\d.]+ N → (49|50)\./)
  // The rig has learned of a later one meanwhile, which counts now where the day decides.
  expect(await done('calibration', '--by-day')).toMatch(/paste-1: (49|50)\.\d+ ± [\d.]+ N → 1(4|5)\d/)
  const packed = await ran(['package', '--study', 'Handles', '--out', at('handles.zip'), ...store])
  expect(packed.code, packed.err).toBe(EXIT.ok)
  for (const [words, said] of [
    [['--of', '2026-09-09'], 'bench has no such calibration'],
    [['--of', '2026-05-01', '--from', '2026-01-01'], 'no recording is meant'],
    [['--file', at('rig.json')], 'calibration.json describes every field'],
  ] as const) {
    const { code, err } = await ran(['specimen', 'calibration', '--study', 'Handles', ...words, ...store])
    expect(code).toBe(EXIT.input)
    expect(err).toContain(said)
  }
})

test('cells of a table, merging, splitting, removing; the list of changes, and each taken back', async () => {
  const before = await listed()
  await writeFile(
    at('cells.csv'),
    'specimen,name,variant,width_mm,note\npaste-1,first,,"12.5",damp\npaste-2,,glue,,\n',
  )
  await done('set', at('cells.csv'))
  expect((await listed()).specimens).toContainEqual(
    expect.objectContaining({ name: 'first', variant: 'paste', widthMm: 12.5, note: 'damp' }),
  )
  await done('merge', 'first', 'paste-2')
  expect((await listed()).removed.map(({ name }) => name)).toEqual(['paste-2'])
  await done('split', 'first', 'paste-2.csv', '--as', 'second')
  await done('remove', 'stitch-1')
  await done('bring-back', 'stitch-1')
  await done('rename', 'stitch-1', 'stitch one')
  const changes = await done('changes')
  expect(changes.trim().split('\n')).toHaveLength(6)
  expect(changes).toContain('Ada: “stitch-1” is now “stitch one”')
  for (let i = 0; i < 6; i++) await done('undo')
  const bare = (all: object[]) => all.map(one => ({ ...one, updatedAt: null }))
  expect(bare((await listed()).specimens)).toEqual(bare(before.specimens))
  expect((await listed()).removed).toEqual([])
})

test('what does not fit changes nothing', async () => {
  await writeFile(at('cells.csv'), 'specimen,width_mm\npaste-1,20\npaste-9,20\npaste-2,wide\n')
  const { code, err } = await ran(['specimen', 'set', at('cells.csv'), '--study', 'Handles', ...store])
  expect(code).toBe(EXIT.input)
  expect(err).toContain('line 3: the study “Handles” has none of this name')
  expect(err).toContain('“wide” is not a number above 0')
  expect((await listed()).specimens.every(({ widthMm }) => widthMm === null)).toBe(true)
  expect(await done('changes')).toContain('Nothing was changed yet')
})

test('peaks of a scale with a peak hold are specimens like the others, marked as typed, and packaged', async () => {
  const rows = ['tape-1,tape,5.12,0.02,0.05', 'tape-2,tape,5.40,0.02,0.05', 'tape-3,tape,>6.0,0.02,']
  const other = ['cord-1,cord,7.1,0.02,0.05', 'cord-2,cord,7.3,0.02,0.05']
  await writeFile(at('peaks.csv'), `specimen,variant,peak,step,doubt\n${[...rows, ...other].join('\n')}\n`)
  const out = await done('type', at('peaks.csv'), '--unit', 'kgf')
  expect(out).toMatch(/tape-1: 5\.12\d* ± 0\.05\d* kgf.*, typed/)
  expect(out).toContain('tape-3: at least')
  const told = await report()
  expect(told).toContain('typed by Ada')
  expect(told).toContain('cord')
  const packed = await ran(['package', '--study', 'Handles', '--out', at('handles.zip'), ...store])
  expect(packed.code, packed.err).toBe(EXIT.ok)
  const verified = await ran(['verify', at('handles.zip')])
  expect(verified.code, verified.out + verified.err).toBe(EXIT.ok)
  await done('move', '--to', 'cord', 'tape-1')
  expect(await variants()).toMatchObject({ 'tape-1': 'cord', 'tape-2': 'tape' })
  // Typed anew, and taken back: what was typed first is its reading again; then none is left.
  await writeFile(at('again.csv'), 'specimen,peak,step\ntape-2,5.8,0.02\n')
  expect(await done('type', at('again.csv'), '--unit', 'kgf')).toMatch(/tape-2: 5\.40\d* .* → 5\.80/)
  expect(await done('undo')).toMatch(/tape-2: 5\.80\d* .* → 5\.40/)
  await done('undo')
  await done('undo')
  expect((await variants())['tape-1']).toBeUndefined()
  expect(await report()).not.toContain('typed by Ada')
})

test('compare takes a study of the store as it takes files; import says what it adds to', async () => {
  await done('move', '--to', 'stitch', 'stitch-1', 'stitch-2')
  const compared = await ran(['compare', '--study', 'Handles', '--json', ...store])
  expect(compared.code, compared.err).toBe(EXIT.ok)
  const { groups } = JSON.parse(compared.out) as { groups: { name: string; n: number }[] }
  expect(groups.map(({ name, n }) => [name, n])).toEqual([
    ['paste', 2],
    ['stitch', 2],
  ])
  expect((await ran(['compare', '--study', 'Handles', at('paste-1.csv'), ...store])).code).toBe(EXIT.usage)
  await writeFile(at('late.csv'), countsLog(61))
  const into = await ran(['import', '--study', 'Handles', at('late.csv'), ...store])
  expect(into.out).toMatch(/added to the study “Handles” of \d{4}-\d\d-\d\d, which had 4 specimens/)
  await writeFile(at('other.csv'), countsLog(62))
  expect((await ran(['import', '--study', 'Other', at('other.csv'), ...store])).out).toContain(
    'a new study “Other”',
  )
})

test('the figure of a calibration needs no study', async () => {
  const points = [
    'mass (kg),reading (counts)',
    ...[0, 2, 4, 6, 8, 10].map(kg => `${kg},${(kg * 1000 + (kg % 3)).toFixed(0)}`),
  ]
  await writeFile(at('points.csv'), `${points.join('\n')}\n`)
  const rig = at('rig.json')
  const made = await ran(['calibrate', at('points.csv'), '--gravity', '9.81', '--save', rig])
  expect(made.code, made.err).toBe(EXIT.ok)
  const drawn = await ran(['figure', 'calibration', '--rig', rig, '--out', at('rig.svg')])
  expect(drawn.code, drawn.err).toBe(EXIT.ok)
  expect(await readFile(at('rig.svg'), 'utf8')).toContain('<svg')
  const bare = await ran(['figure', 'dots', '--rig', rig, '--out', at('dots.svg')])
  expect(bare.code).toBe(EXIT.usage)
})

test('a log of JSON lines that is to be compared is said to be a log, once', async () => {
  const lines = Array.from({ length: 40 }, (_, i) => JSON.stringify({ t: i / 10, force: i }))
  await writeFile(at('log.jsonl'), `${lines.join('\n')}\n`)
  const { code, err } = await ran(['compare', at('log.jsonl')])
  expect(code).toBe(EXIT.input)
  expect(err.match(/looks like a log \(t, force\)/g)).toHaveLength(1)
  expect(err).toContain('tenterhook read --json')
})

test('day and order of pulling are not known until a person tells them', async () => {
  expect(await report()).not.toContain('2026-05-03')
  await writeFile(
    at('cells.csv'),
    'specimen,day,order\npaste-1,2026-05-03,2\npaste-2,2026-05-03,1\nstitch-1,2026-02-30,\n',
  )
  const { code, err } = await ran(['specimen', 'set', at('cells.csv'), '--study', 'Handles', ...store])
  expect(code).toBe(EXIT.input)
  expect(err).toContain('“2026-02-30” is not a day')
  await writeFile(at('cells.csv'), 'specimen,day,order\npaste-1,2026-05-03,2\npaste-2,2026-05-03,1\n')
  await done('set', at('cells.csv'))
  expect(await report()).toContain('2026-05-03')
  // What was told stays told in a package and where it is taken in, and nothing is told there that was not here.
  const packed = await ran(['package', '--study', 'Handles', '--out', at('told.zip'), ...store])
  expect(packed.code, packed.err).toBe(EXIT.ok)
  const elsewhere = ['--store', at('elsewhere')]
  expect((await ran(['import', at('told.zip'), ...elsewhere])).code).toBe(EXIT.ok)
  const there = await ran(['specimen', 'list', '--json', '--study', 'Handles', ...elsewhere])
  const facts = (
    JSON.parse(there.out) as { specimens: { name: string; pulledOn: string; pullOrder: number }[] }
  ).specimens
  expect(Object.fromEntries(facts.map(one => [one.name, [one.pulledOn, one.pullOrder]]))).toEqual({
    'paste-1': ['2026-05-03', 2],
    'paste-2': ['2026-05-03', 1],
    'stitch-1': [null, null],
    'stitch-2': [null, null],
  })
})

test('who has only a scale types the first peaks into a study that is new; a wrong table makes none', async () => {
  const type = (file: string) => ran(['specimen', 'type', at(file), '--study', 'Straps', ...store])
  await writeFile(at('wrong.csv'), 'specimen,force\ns-1,500\n')
  await writeFile(at('right.csv'), 'specimen,variant,peak,step\ns-1,knot,500,5\ns-2,knot,510,5\n')
  expect((await type('wrong.csv')).code).toBe(EXIT.input)
  const list = () => ran(['specimen', 'list', '--study', 'Straps', ...store])
  expect((await list()).code).toBe(EXIT.input)
  const { code, out, err } = await type('right.csv')
  expect(code, err).toBe(EXIT.ok)
  expect(err).toContain('A new study “Straps”')
  expect(out).toMatch(/s-1: 500\.0 .*typed/)
  expect((await list()).out).toContain('knot')
  expect((await type('right.csv')).err).not.toContain('new study')
})

test.each([
  ['peak_N', [], 60, 'N'],
  ['Peak (kgf)', [], 60, 'kgf'],
  ['peak, lbf', [], 60, 'lbf'],
  ['peak [kgf]', ['--unit', 'kgf'], 60, 'kgf'],
  ['peak', ['--unit', 'lbf'], 60, 'lbf'],
  ['peak', [], 60, 'N'],
] as const)('a typed peak under “%s” with %j', async (heading, words, value, unit) => {
  await writeFile(at('peaks.csv'), `specimen;${heading};step\ncord 1;60;0.5\n`)
  await done('type', ...words, at('peaks.csv'))
  const { specimens } = await listed()
  const cord = specimens.find(({ name }) => name === 'cord 1')
  expect(cord).toMatchObject({ typedPeak: { value, unit, step: 0.5 } })
})

test('peaks in two units at once are refused, and nothing is kept', async () => {
  const typed = async (head: string, ...words: string[]) => {
    await writeFile(at('peaks.csv'), `${head}\ncord 1;60;0.5\n`)
    return ran(['specimen', 'type', '--study', 'Handles', ...words, at('peaks.csv'), ...store])
  }
  for (const refused of [
    await typed('specimen;peak_kgf;step_N'),
    await typed('specimen;peak_kgf;step', '--unit', 'N'),
  ]) {
    expect(refused.code).toBe(EXIT.input)
    expect(refused.err).toContain('are told to be in kgf and in N')
  }
  expect((await listed()).specimens.map(({ name }) => name)).not.toContain('cord 1')
})

test('the checks beside a rig file go along with a rig that is named afterwards, and one recording is said as one', async () => {
  const rig = { document: 'tenterhook.rig', version: 1, name: 'bench', calibrations: [] }
  await writeFile(at('rig.json'), JSON.stringify(rig))
  const check = { document: 'tenterhook.check', version: 1 }
  await writeFile(at('rig.checks.jsonl'), `${JSON.stringify(check)}\n`)
  const refused = await ran(['specimen', 'rig', '--study', 'Handles', '--rig', at('rig.json'), ...store])
  // A broken check is not passed over.
  expect(refused.code).toBe(EXIT.input)
  await writeFile(at('rig.checks.jsonl'), `${JSON.stringify({ ...check, ...CHECKED })}\n`)
  expect(await done('rig', '--rig', at('rig.json'), 'paste-1')).toContain('1 recording made on “bench”')
  const opened = await openAt(at('store'))
  try {
    const [kept] = await opened.rigs.list()
    expect(await opened.checks.list(kept!.id)).toHaveLength(1)
  } finally {
    await opened.close()
  }
})

test('show takes the name of a specimen; of several of one name it lists the ids', async () => {
  const shown = await ran(['show', 'paste-1', ...store])
  expect(shown.code, shown.err).toBe(EXIT.ok)
  expect(shown.out).toContain('paste-1.csv')
  expect(shown.out).toMatch(/\d counts/)
  await ran(['import', '--study', 'Other', at('paste-1.csv'), ...store])
  await writeFile(at('paste-2.csv'), countsLog(70))
  await ran(['import', '--study', 'Other', at('paste-2.csv'), ...store])
  const several = await ran(['show', 'paste-2', ...store])
  expect(several.code).toBe(EXIT.input)
  expect(several.err).toMatch(
    /2 specimens have this name \(of “(Handles|Other)”: \w+; of “(Handles|Other)”: \w+\)/,
  )
  const one = await ran(['show', 'paste-2', '--study', 'Other', '--json', ...store])
  expect((JSON.parse(one.out) as { study: { name: string } }).study.name).toBe('Other')
  const none = await ran(['show', 'paste-9', ...store])
  expect(none.code).toBe(EXIT.input)
})

const CHECKED = {
  at: '2026-05-04T08:00:00Z',
  appliedN: 19.6,
  appliedStandardN: 0.01,
  indicatedN: 19.7,
  indicatedStandardN: 0.02,
  zeroN: null,
  calibration: null,
  verdict: 'within',
  findings: [],
}

test('a specimen of one recording cannot be split, and the calibrations of all pass over those without a rig', async () => {
  const alone = await ran([
    ...['specimen', 'split', '--study', 'Handles', 'paste-1', 'paste-1.csv', '--as', 'x'],
    ...store,
  ])
  expect(alone.code).toBe(EXIT.input)
  expect(alone.err).toContain('it has one recording, and one alone cannot be split.')
  const bare = await ran(['specimen', 'calibration', '--study', 'Handles', ...store])
  expect(bare.code).toBe(EXIT.input)
  expect(bare.err).toContain('of 4 of these recordings no rig is told')
  await writeFile(
    at('rig.json'),
    JSON.stringify({ document: 'tenterhook.rig', version: 1, name: 'bench', calibrations: [] }),
  )
  await done('rig', '--rig', at('rig.json'), 'paste-1')
  expect(await done('calibration')).toContain('bench: 1 recording by the calibration of each one’s day')
})

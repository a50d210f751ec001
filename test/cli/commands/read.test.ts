import { createHash } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/index.ts'
import { EXIT } from '../../../src/cli/io.ts'
import { type Reading, readingSchema } from '../../../src/core/reading/document.ts'
import { writeCsv } from '../../../src/logs/index.ts'
import { ran } from '../fakeIo.ts'

let folder = ''
const at = (name: string) => join(folder, name)

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-read-'))
  const { recording } = makePull({ kind: 'zeroed-under-load', seed: 3 })
  writeFileSync(at('dots.csv'), [...writeCsv(recording, { unit: 'kgf' })].join(''))
  const two = makePull({ kind: 'two-logs', seed: 2 })
  for (const [i, log] of two.logs.entries()) writeFileSync(at(`stitch-${i}.csv`), [...writeCsv(log)].join(''))
  writeFileSync(at('empty.csv'), '')
  writeFileSync(at('evil\u001b]0;x\u0007.csv'), [...writeCsv(recording)].join(''))
})

afterAll(() => rmSync(folder, { recursive: true, force: true }))

const readingsOf = (out: string): Reading[] =>
  out
    .trim()
    .split('\n')
    .map(line => readingSchema.parse(JSON.parse(line)))

test('--json prints one valid document a line, with the hash of the bytes', async () => {
  const { code, out, err } = await ran(['read', '--json', at('dots.csv'), at('stitch-0.csv')])
  expect(err).toBe('')
  expect(code).toBe(EXIT.ok)
  const readings = readingsOf(out)
  expect(readings.map(r => r.recording.name)).toEqual(['dots.csv', 'stitch-0.csv'])
  expect(readings[0]!.recording.sha256).toBe(
    createHash('sha256')
      .update(readFileSync(at('dots.csv')))
      .digest('hex'),
  )
})

test('the result stands on the first line, in the unit of the log with newton beside', async () => {
  const { out } = await ran(['read', at('dots.csv')])
  expect(out.split('\n')[0]).toMatch(/^dots\.csv: peak force .* kgf.* N/)
  const { out: shown } = await ran(['read', '--show', 'lbf', at('dots.csv')])
  expect(shown.split('\n')[0]).toMatch(/ lbf/)
})

test('every output without a calibration says that the scale is not checked', async () => {
  const [reading] = readingsOf((await ran(['read', '--json', at('dots.csv')])).out)
  expect(reading!.warnings.map(w => w.code)).toContain('not-calibrated')
  expect((await ran(['read', at('dots.csv')])).out).toContain('not-calibrated')
})

test('--specimen makes one reading of several logs, with both hashes and the time between unknown', async () => {
  const { out } = await ran(['read', '--json', '--specimen', at('stitch-0.csv'), at('stitch-1.csv')])
  const [reading, more] = readingsOf(out)
  expect(more).toBeUndefined()
  const { segments } = reading!.recording
  expect(segments.map(s => [s.name, s.began])).toEqual([
    ['stitch-0.csv', 'start'],
    ['stitch-1.csv', 'file'],
  ])
  expect(new Set(segments.map(s => s.sha256)).size).toBe(2)
})

test('a table of specimens gives elements and names, and joins the logs of one specimen', async () => {
  writeFileSync(
    at('table.csv'),
    'file,specimen,elements,width_mm,mode\nstitch-0.csv,stitch 1,14,90,tape\nstitch-1.csv,stitch 1,14,90,tape\ndots.csv,,8,,\n',
  )
  const files = [at('stitch-0.csv'), at('dots.csv'), at('stitch-1.csv')]
  const readings = readingsOf((await ran(['read', '--json', '--specimens', at('table.csv'), ...files])).out)
  expect(readings.map(r => [r.specimen?.name, r.specimen?.elements, r.specimen?.widthMm])).toEqual([
    ['stitch 1', 14, 90],
    [null, 8, null],
  ])
})

test('a log that cannot be read is told with the cure, and the others are read all the same', async () => {
  const odd = [at('empty.csv'), at('absent.csv'), at(`${'n'.repeat(400)}.csv`)]
  const { code, out, err } = await ran(['read', '--json', ...odd, at('dots.csv')])
  expect(code).toBe(EXIT.input)
  expect(readingsOf(out)).toHaveLength(1)
  expect(err).toContain('empty.csv')
  expect(err).toContain('absent.csv: there is no such file')
  expect(err).toMatch(/n\.csv: its name is longer than the system allows\. Choose a shorter name\./)
})

test('nothing in a log or its name brings a control character to the terminal', async () => {
  const { out } = await ran(['read', at('evil\u001b]0;x\u0007.csv')])
  expect(out.replaceAll('\n', '')).not.toMatch(/\p{Cc}/u)
})

test('nor does a name in a message, or a word that is no option', async () => {
  for (const words of [[at('no\u001b[31mne')], ['--unit', 'x\u001b[2J', at('dots.csv')], ['--\u0007x']]) {
    const { err } = await ran(['read', ...words])
    expect(err).toMatch(/^tenterhook: /)
    expect(err.replaceAll('\n', '')).not.toMatch(/\p{Cc}/u)
  }
})

test('a log whose name begins with a dash is told how to be named', async () => {
  expect((await ran(['read', '-dash.csv'])).err).toContain('./-name')
})

test('colour comes on a terminal only, and NO_COLOR is honoured', async () => {
  const esc = '\u001b['
  expect((await ran(['read', at('dots.csv')])).out).not.toContain(esc)
  expect((await ran(['read', at('dots.csv')], { outIsTerminal: true })).out).toContain(esc)
  expect(
    (await ran(['read', at('dots.csv')], { outIsTerminal: true, env: { NO_COLOR: '1' } })).out,
  ).not.toContain(esc)
})

test('--figure draws SVG and PNG; another ending is told', async () => {
  expect((await ran(['read', '--figure', at('a.svg'), at('dots.csv')])).code).toBe(EXIT.ok)
  expect(readFileSync(at('a.svg'), 'utf8')).toMatch(/^<svg .*<title>.*<\/svg>\n$/s)
  expect((await ran(['read', '--figure', at('a.png'), at('dots.csv')])).code).toBe(EXIT.ok)
  expect(readFileSync(at('a.png')).subarray(1, 4).toString()).toBe('PNG')
  // A wrong ending is told before the log is read.
  const wrong = await ran(['read', '--figure', at('a.bmp'), at('dots.csv')])
  expect(wrong.code).toBe(EXIT.usage)
  expect(wrong.err).toContain('.svg or .png')
  expect(wrong.out).toBe('')
  const nowhere = await ran(['read', '--figure', at('none/a.svg'), at('dots.csv')])
  expect(nowhere.code).toBe(EXIT.output)
  expect(nowhere.err).toContain('its folder is not there')
})

test('several readings give several figures, named after their logs', async () => {
  await ran(['read', '--figure', at('f.svg'), at('dots.csv'), at('stitch-0.csv')])
  expect(readFileSync(at('f-dots.svg'), 'utf8')).toContain('<svg')
  expect(readFileSync(at('f-stitch-0.svg'), 'utf8')).toContain('<svg')
})

test('adjustments are replayed, and stand in the document', async () => {
  const [before] = readingsOf((await ran(['read', '--json', at('dots.csv')])).out)
  const first = before!.pulls[0]!
  const adjustments = [
    {
      id: 'a1',
      kind: 'drop-pull',
      atS: first.peakS,
      who: 'Maker',
      when: '2026-05-04T14:20:00Z',
      why: 'a tug to seat the grips',
    },
  ]
  writeFileSync(
    at('adjust.json'),
    JSON.stringify({ document: 'tenterhook.adjustments', version: 1, adjustments }),
  )
  const [after] = readingsOf(
    (await ran(['read', '--json', '--adjust', at('adjust.json'), at('dots.csv')])).out,
  )
  expect(after!.pulls).toHaveLength(before!.pulls.length - 1)
})

test('elements are a whole number above nothing, and not beside a table', async () => {
  for (const words of [
    ['--elements', '0'],
    ['--elements', '2.5'],
    ['--elements', '3', '--specimens', 't.csv'],
  ]) {
    expect((await ran(['read', ...words, at('dots.csv')])).code).toBe(EXIT.usage)
  }
})

test('a long log shows progress', async () => {
  let nowMs = 0
  const { progress } = await import('../../../src/cli/progress.ts')
  let err = ''
  const shown = progress(
    {
      err: text => {
        err += text
      },
      errIsTerminal: false,
    },
    'reading big.csv',
    () => nowMs,
  )
  shown.tell(1, 10)
  expect(err).toBe('')
  nowMs = 1_500
  shown.tell(4, 10)
  expect(err).toBe('reading big.csv 40 %\n')
})

const countsLog = (): string =>
  [
    'ms,raw',
    ...Array.from({ length: 300 }, (_, i) => {
      const loaded = i > 60 && i < 200 ? (i - 60) * 4000 : 0
      return `${i * 100},${8_000 + loaded + ((i * 7919) % 5)}`
    }),
  ].join('\n')

test('raw counts are told as counts, and become newtons by the calibration of the rig', async () => {
  writeFileSync(at('counts.csv'), countsLog())
  const without = await ran(['read', at('counts.csv')])
  expect(without.code, without.err).toBe(EXIT.ok)
  expect(without.out).toMatch(/peak force .* counts/)
  expect(without.out).toContain('counts-not-calibrated')
  expect(without.out).not.toMatch(/\d N\b/)
  writeFileSync(
    at('rig.json'),
    JSON.stringify({
      document: 'tenterhook.rig',
      version: 1,
      name: 'bench',
      cell: { capacityN: 2_000 },
      calibrations: [
        {
          document: 'tenterhook.quick-scale',
          version: 1,
          date: '2026-05-01',
          basis: 'typed',
          readingUnit: 'counts',
          newtonPerReading: 1e-4,
          zeroReading: 8_000,
          appliedN: null,
          doubtPct: 1,
        },
      ],
    }),
  )
  writeFileSync(at('bare.json'), JSON.stringify({ document: 'tenterhook.rig', version: 1, name: 'bench' }))
  const bare = await ran(['read', '--rig', at('bare.json'), at('counts.csv')])
  expect(bare.code).toBe(EXIT.ok)
  expect(bare.out.replace(/\s+/g, ' ')).toContain('bench has no calibration of counts')
  const { code, out, err } = await ran(['read', '--json', '--rig', at('rig.json'), at('counts.csv')])
  expect(code, err).toBe(EXIT.ok)
  const [reading] = readingsOf(out)
  expect(reading!.results.peakForce.valueN).toBeCloseTo(139 * 0.4, 0)
  expect(reading!.warnings.map(w => w.code)).not.toContain('not-calibrated')
  const scale = reading!.budget.find(part => part.shared === 'rig' || part.shared === 'day')
  expect(2 * scale!.standardN).toBeCloseTo(0.01 * 139 * 0.4, 1)
})

test('a rig file that is none is told with its field', async () => {
  writeFileSync(at('bad-rig.json'), '{"document": "tenterhook.rig", "version": 1, "strokeMm": -4}')
  const { code, err } = await ran(['read', '--rig', at('bad-rig.json'), at('dots.csv')])
  expect(code).toBe(EXIT.input)
  expect(err).toContain('strokeMm')
})

const table = (title: string, top: number): string =>
  `${title}Time (s),Load (N)\n${Array.from(
    { length: 120 },
    (_, i) =>
      `${(i / 10).toFixed(1)},${((i > 20 && i < 80 ? (top * (i - 20)) / 59 : 0) + 0.01 * (i % 3)).toFixed(3)}`,
  ).join('\n')}\n\n`

test('tables with names of their own are specimens of their own, and that is said', async () => {
  writeFileSync(at('named.csv'), table('Specimen 1\n', 30) + table('Specimen 2\n', 50))
  const { code, out, err } = await ran(['read', '--json', at('named.csv')])
  expect(code).toBe(EXIT.ok)
  expect(err).toMatch(
    /^named\.csv: 2 tables \(“Specimen 1”, “Specimen 2”\), each read as a specimen of its own; --specimen/,
  )
  const readings = readingsOf(out)
  expect(readings.map(r => [r.recording.name, r.specimen?.name])).toEqual([
    ['named.csv · Specimen 1', 'Specimen 1'],
    ['named.csv · Specimen 2', 'Specimen 2'],
  ])
  expect(readings.map(r => Math.round(r.results.peakForce.valueN ?? 0))).toEqual([30, 50])
  const together = await ran(['read', '--json', '--specimen', at('named.csv')])
  expect(together.err).toBe('')
  expect(readingsOf(together.out).map(r => r.recording.segments.length)).toEqual([2])
})

test('tables without names are one specimen in pieces, unless each is asked for', async () => {
  writeFileSync(at('bare.csv'), table('', 30) + table('', 50))
  const joined = await ran(['read', '--json', at('bare.csv')])
  expect(joined.err).toMatch(/2 tables, read as one specimen; --each reads each for itself/)
  expect(readingsOf(joined.out)).toHaveLength(1)
  const each = await ran(['read', '--json', '--each', '--figure', at('each.svg'), at('bare.csv')])
  expect(readingsOf(each.out).map(r => r.recording.name)).toEqual(['bare.csv · part 1', 'bare.csv · part 2'])
  expect(readFileSync(at('each-bare-part-2.svg'), 'utf8')).toContain('<svg')
  const one = await ran(['read', '--json', '--each', at('dots.csv')])
  expect(one.err).toMatch(/dots\.csv: one table only/)
  expect(readingsOf(one.out)).toHaveLength(1)
})

test('tables side by side are asked about, unless they have names or each is asked for', async () => {
  const beside = (titles: string): string => {
    const rows = Array.from({ length: 40 }, (_, i) => `${i / 10},${i},${i / 10},${2 * i}`).join('\n')
    return `${titles}time_s,force_N,time_s,force_N\n${rows}\n`
  }
  writeFileSync(at('beside.csv'), beside(''))
  const asked = await ran(['read', '--json', at('beside.csv')])
  expect(asked.code).toBe(EXIT.input)
  expect(asked.err).toMatch(/beside\.csv: 2 tables side by side; --each reads each for itself\./)
  expect(asked.err).toMatch(/which column is the force is not clear/)
  const each = await ran(['read', '--json', '--each', at('beside.csv')])
  expect(readingsOf(each.out).map(r => r.recording.name)).toEqual([
    'beside.csv · part 1',
    'beside.csv · part 2',
  ])
  writeFileSync(at('beside.csv'), beside('left,,right,\n'))
  const named = await ran(['read', '--json', at('beside.csv')])
  expect(named.err).toMatch(/2 tables \(“left”, “right”\) side by side, each read as a specimen of its own\./)
  expect(readingsOf(named.out).map(r => r.specimen?.name)).toEqual(['left', 'right'])
})

test('a header in the midst that names other columns is read by its own', async () => {
  writeFileSync(at('other.csv'), table('', 30).trimEnd() + table('\n', 5).replace('(N)', '(kgf)'))
  const { code, out } = await ran(['read', '--json', at('other.csv')])
  expect(code).toBe(EXIT.ok)
  const [reading] = readingsOf(out)
  expect(reading?.recording.sha256).toBe(
    createHash('sha256')
      .update(readFileSync(at('other.csv')))
      .digest('hex'),
  )
  expect(reading?.warnings.map(({ code }) => code)).toContain('layout-changes')
  expect(reading?.results.peakForce.valueN).toBeCloseTo(5 * 9.80665, 0)
})

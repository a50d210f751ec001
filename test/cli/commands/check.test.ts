import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeEach, describe, expect, test } from 'vitest'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import { ran } from '../fakeIo.ts'

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-check-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const RIG = {
  name: 'bench',
  cell: { capacityN: 490 },
  gravity: { ms2: 9.81 },
  calibrations: [
    {
      document: 'tenterhook.quick-scale',
      version: 1,
      date: '2026-05-01',
      basis: 'one-mass',
      readingUnit: 'counts',
      newtonPerReading: 0.0005,
      zeroReading: 50_000,
      appliedN: 98.1,
      doubtPct: 1,
    },
  ],
}
const rig = join(folder, 'rig.json')
const kept = join(folder, 'rig.checks.jsonl')
beforeEach(() => {
  writeFileSync(rig, JSON.stringify(RIG))
  rmSync(kept, { force: true })
})

/** A log in counts: empty, the mass, empty. */
function log(name: string, massCounts: number, zeroCounts = 50_000): string {
  const random = seededRandom(6)
  const level = (i: number) => zeroCounts + (i >= 50 && i < 100 ? massCounts : 0)
  const rows = Array.from(
    { length: 150 },
    (_, i) => `${i / 10},${Math.round(level(i) + 5 * random.normal())}`,
  )
  const path = join(folder, name)
  writeFileSync(path, `time (s),counts\n${rows.join('\n')}\n`)
  return path
}

const check = (...words: string[]) => ran(['check', '--rig', rig, '--mass', '1.000kg', ...words])
const typed = (reading: number, at = '2026-06-01T08:00:00Z') =>
  check('--reading', String(reading), '--zero', '50000', '--at', at)

test('a log with the empty hook and the mass', async () => {
  const { code, out, err } = await check(log('good.csv', 19_620), '--at', '2026-06-01T08:00:00Z')
  expect(err).toBe('')
  expect(out).toContain('The rig reads as it should')
  expect(code).toBe(0)
  expect(JSON.parse(readFileSync(kept, 'utf8'))).toMatchObject({
    verdict: 'within',
    calibration: '2026-05-01',
  })
})
test('a scale that moved leaves with 1', async () => {
  const { code, out } = await check(log('moved.csv', 20_600))
  expect(code).toBe(1)
  expect(out).toContain('scale-moved')
})
test('a zero far away tells of an overload', async () => {
  const { code, out } = await check(log('zero.csv', 19_620, 56_000))
  expect(code).toBe(1)
  expect(out).toContain('zero-moved-far')
})
test('a log of one level', async () => {
  const { code, err } = await check(log('flat.csv', 0))
  expect(code).toBe(3)
  expect(err).toContain('one level only')
})
test('typed readings', async () => {
  expect((await typed(69_620)).code).toBe(0)
  expect((await typed(70_500)).code).toBe(1)
})
test('counts without the empty hook', async () => {
  const { code, err } = await check('--reading', '69620')
  expect(code).toBe(3)
  expect(err).toContain('--zero')
})
test('a calibration of a later day is told as that, not as none, with a typed reading and with a log', async () => {
  const at = ['--at', '2026-04-30T08:00:00Z']
  for (const words of [['--reading', '69620', '--zero', '50000'], [log('early.csv', 19_620)]]) {
    const { code, err } = await check(...words, ...at)
    expect(code).toBe(3)
    expect(err).toMatch(/the scale by one mass of 2026-05-01 of bench is later than 2026-04-30/)
    expect(err).not.toContain('has no calibration')
  }
  writeFileSync(rig, JSON.stringify({ ...RIG, calibrations: [] }))
  expect((await typed(69_620)).err).toContain('bench has no calibration of it')
})
test('an old calibration is told', async () => {
  const { code, out } = await typed(69_620, '2028-06-01T08:00:00Z')
  expect(code).toBe(0)
  expect(out).toContain('calibration-old')
})

describe('what is kept', () => {
  test('every check adds a line; those before stay as they are', async () => {
    await typed(69_620, '2026-06-01T08:00:00Z')
    const first = readFileSync(kept, 'utf8')
    await typed(69_625, '2026-06-02T08:00:00Z')
    const both = readFileSync(kept, 'utf8')
    expect(both.startsWith(first)).toBe(true)
    expect(both.trim().split('\n')).toHaveLength(2)
  })
  test('after six the chart has limits, and a figure shows them', async () => {
    for (let day = 1; day <= 6; day++) await typed(69_618 + day, `2026-06-0${day}T08:00:00Z`)
    const figure = join(folder, 'checks.svg')
    const { out } = await check(
      '--reading',
      '69620',
      '--zero',
      '50000',
      '--at',
      '2026-06-07T08:00:00Z',
      '--figure',
      figure,
    )
    expect(out).toContain('limits of the chart')
    expect(readFileSync(figure, 'utf8')).toContain('upper limit')
  })
  test('a last line cut by a power loss is set aside, nothing else is touched', async () => {
    await typed(69_620, '2026-06-01T08:00:00Z')
    const first = readFileSync(kept, 'utf8')
    writeFileSync(kept, `${first}{"document":"tenterh`)
    const { code, err } = await typed(69_625, '2026-06-02T08:00:00Z')
    expect(code).toBe(0)
    expect(err).toContain('cut short')
    const lines = readFileSync(kept, 'utf8').split('\n')
    expect(lines[0]).toBe(first.trim())
    expect(lines[1]).toBe('# cut short: {"document":"tenterh')
    expect(JSON.parse(lines[2]!)).toMatchObject({ verdict: 'within' })
    expect((await typed(69_625, '2026-06-03T08:00:00Z')).err).toBe('')
  })
  test('a line without its end gets one first', async () => {
    await typed(69_620, '2026-06-01T08:00:00Z')
    writeFileSync(kept, readFileSync(kept, 'utf8').trimEnd())
    await typed(69_625, '2026-06-02T08:00:00Z')
    for (const line of readFileSync(kept, 'utf8').trim().split('\n')) expect(JSON.parse(line).version).toBe(1)
  })
  test('a broken line in the middle stops the check and is told', async () => {
    writeFileSync(kept, 'nonsense\n{}\n')
    const { code, err } = await typed(69_620)
    expect(code).toBe(3)
    expect(err).toContain('rig.checks.jsonl, line 1')
    expect(readFileSync(kept, 'utf8')).toBe('nonsense\n{}\n')
  })
  test('a dry run keeps nothing', async () => {
    await check('--reading', '69620', '--zero', '50000', '--dry-run')
    expect(() => readFileSync(kept)).toThrow()
  })
})

test('limits of another kind than the load', async () => {
  const { code, err } = await check('--mass-tolerance', '1N', '--reading', '69620', '--zero', '50000')
  expect(code).toBe(3)
  expect(err).toContain('do not go with')
})

test('the command line', async () => {
  expect((await ran(['check', '--mass', '1kg'])).code).toBe(2)
  expect((await check()).code).toBe(2)
  expect((await ran(['check', '--rig', rig, '--mass', '-1kg', '--reading', '3'])).code).toBe(2)
  expect((await check('--reading', '1', '--at', 'yesterday')).code).toBe(2)
})

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { parseRig } from '../../../src/core/calibration/rig.ts'
import { ran } from '../fakeIo.ts'

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-rig-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const at = (name: string) => join(folder, name)
const read = (name: string) => {
  const rig = parseRig(readFileSync(at(name), 'utf8'), name)
  if (!rig.ok) throw new Error(rig.problems[0]?.what)
  return rig.value
}

test('a rig file is begun, shown, and never written over', async () => {
  const begin = [
    'rig',
    'new',
    at('a.json'),
    '--capacity',
    '50kg',
    '--stroke',
    '60',
    '--sign',
    '-1',
    '--latitude',
    '52.1',
  ]
  expect((await ran(begin)).code).toBe(0)
  expect(read('a.json')).toMatchObject({ cell: { capacityN: 490.3325 }, strokeMm: 60, sign: -1 })
  expect((await ran(begin)).code).toBe(4)
  const { out } = await ran(['rig', 'show', at('a.json')])
  expect(out).toContain('490 N')
  expect(out).toContain('the scale is not checked')
  expect(JSON.parse((await ran(['rig', 'show', at('a.json'), '--json'])).out).limits.calibrationDays).toBe(
    365,
  )
})

describe('a quick scale', () => {
  test('by one mass', async () => {
    const words = [
      'rig',
      'quick',
      '--rig',
      at('q.json'),
      '--mass',
      '1.000kg',
      '--reading',
      '69630',
      '--zero',
      '50010',
    ]
    const { code, out } = await ran([...words, '--gravity', '9.81'])
    expect(code).toBe(0)
    expect(out).toContain('reaches no class')
    expect(read('q.json').calibrations[0]).toMatchObject({
      basis: 'one-mass',
      readingUnit: 'counts',
      zeroReading: 50010,
    })
    expect((read('q.json').calibrations[0] as { newtonPerReading: number }).newtonPerReading).toBeCloseTo(
      9.81 / 19_620,
      12,
    )
  })
  test('by a typed doubt', async () => {
    const { code } = await ran([
      'rig',
      'quick',
      '--rig',
      at('t.json'),
      '--doubt',
      '2%',
      '--reading-unit',
      'kgf',
    ])
    expect(code).toBe(0)
    expect(read('t.json').calibrations[0]).toMatchObject({ basis: 'typed', doubtPct: 2 })
  })
  test('what is missing is told', async () => {
    expect((await ran(['rig', 'quick', '--rig', at('x.json')])).err).toContain('neither a mass nor a doubt')
    expect((await ran(['rig', 'quick', '--rig', at('x.json'), '--mass', '1kg'])).err).toContain('--reading')
    expect((await ran(['rig', 'quick', '--rig', at('x.json'), '--doubt', '2'])).err).toContain(
      'counts have no scale',
    )
    expect(
      (await ran(['rig', 'quick', '--rig', at('x.json'), '--doubt', '2', '--reading-unit', 'furlong'])).code,
    ).toBe(3)
  })
})

describe('stiffness', () => {
  const rows = Array.from({ length: 120 }, (_, i) => {
    const mm = i * 0.02
    return `${i / 10},${(Math.max(0, mm - 0.2) * 140).toFixed(3)},${mm.toFixed(3)}`
  })
  const log = at('bar.csv')
  writeFileSync(log, `time (s),force (N),travel (mm)\n${rows.join('\n')}\n`)
  const bare = at('bare.csv')
  writeFileSync(bare, `time (s),force (N)\n${rows.map(r => r.split(',').slice(0, 2).join(',')).join('\n')}\n`)

  test('from a channel of travel, kept in the rig', async () => {
    await ran(['rig', 'new', at('s.json')])
    const { code, out } = await ran(['rig', 'stiffness', log, '--rig', at('s.json')])
    expect(code).toBe(0)
    expect(out).toContain('140')
    expect(read('s.json').stiffness!.nPerMm).toBeCloseTo(140, 1)
  })
  test('from the speed of the drive', async () => {
    const { out } = await ran(['rig', 'stiffness', bare, '--mm-per-second', '0.2', '--json'])
    expect(JSON.parse(out).nPerMm).toBeCloseTo(140, 1)
  })
  test('without travel', async () => {
    const { code, err } = await ran(['rig', 'stiffness', bare])
    expect(code).toBe(3)
    expect(err).toContain('--mm-per-second')
    expect((await ran(['rig', 'stiffness', log, '--travel', 'nut'])).err).toContain('The channels are')
  })
})

test('settling of an empty rig', async () => {
  const rows = Array.from(
    { length: 1200 },
    (_, i) => `${i},${(3 * Math.exp(-i / 120) + (i % 2) * 0.01).toFixed(4)}`,
  )
  writeFileSync(at('warm.csv'), `time (s),force (N)\n${rows.join('\n')}\n`)
  const { code, out } = await ran(['rig', 'settle', at('warm.csv'), '--within', '0.1N'])
  expect(code).toBe(0)
  expect(out).toMatch(/^Settled after [5-8] min/)
})

test('no such part, and no part at all', async () => {
  expect((await ran(['rig'])).code).toBe(2)
  expect((await ran(['rig', 'polish'])).code).toBe(2)
})

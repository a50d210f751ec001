import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, test } from 'vitest'
import { type Calibration, calibrationSchema } from '../../../src/core/calibration/document.ts'
import { ran } from '../fakeIo.ts'

const folder = mkdtempSync(join(tmpdir(), 'tenterhook-calibrate-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const file = (name: string, text: string): string => {
  const path = join(folder, name)
  writeFileSync(path, text)
  return path
}

/** 2000 counts a newton at standard gravity, three runs, with a count or two of scatter. */
const POINTS = `mass (kg),reading (counts),direction,cycle
0,50010,up,1
1,69632,up,1
2,89270,up,1
5,148120,up,1
8,206990,up,1
10,246240,up,1
8,207010,down,1
5,148160,down,1
0,50020,down,1
0,50012,up,2
1,69640,up,2
2,89260,up,2
5,148110,up,2
8,206980,up,2
10,246260,up,2
0,50008,up,3
1,69630,up,3
2,89266,up,3
5,148130,up,3
8,207000,up,3
10,246250,up,3
`
const points = file('points.csv', POINTS)

const json = async (...words: string[]): Promise<Calibration> => {
  const { code, out, err } = await ran(['calibrate', ...words, '--json'])
  expect(err).toBe('')
  expect(code).toBe(0)
  return JSON.parse(out)
}

test('the document keeps to its schema and to the design', async () => {
  const found = await json(points, '--gravity', '9.8124', '--date', '2026-05-03')
  expect(calibrationSchema.parse(found)).toEqual(found)
  expect(found).toMatchObject({
    document: 'tenterhook.calibration',
    version: 1,
    gravity: 9.8124,
    degree: 1,
    date: '2026-05-03',
    class: '0.5',
  })
  // NumPy 2.4.6: polyfit((r - 148000)/1e5, m*9.8124, 1), written in r.
  expect(found.coefficients[1]! / 0.0005000385457059003).toBeCloseTo(1, 10)
  expect(found.coefficients[0]! / -25.008567406897235).toBeCloseTo(1, 10)
  expect(found.points).toHaveLength(21)
  expect(found.uncertainty.at(-1)!.parts.map(p => p.source)).toContain('gravity')
})

test('gravity by place; local gravity scales every force', async () => {
  const here = await json(points, '--latitude', '52', '--height', '34')
  const standard = await json(points, '--gravity', 'standard')
  expect(here.gravity).toBeCloseTo(9.81236918778, 9)
  expect(here.coefficients[1]! / standard.coefficients[1]!).toBeCloseTo(9.81236918778 / 9.80665, 9)
})

test('without a place the doubt covers the whole Earth, and that is said', async () => {
  const { out } = await ran(['calibrate', points])
  expect(out).toContain('gravity-assumed')
  expect(out.replaceAll(/\s+/g, ' ')).toContain('Give --latitude and --height, or --gravity.')
  const unknown = await json(points)
  // The document is read elsewhere too, where there are no options.
  expect(unknown.warnings.map(({ text }) => text).join(' ')).not.toContain('--')
  const known = await json(points, '--latitude', '52.00', '--height', '34')
  expect(unknown.uncertainty.at(-1)!.expandedN).toBeGreaterThan(5 * known.uncertainty.at(-1)!.expandedN)
})

test('for people: class, fit, errors, doubt, notes', async () => {
  const { code, out } = await ran([
    'calibrate',
    points,
    '--latitude',
    '52.0',
    '--tolerance',
    '0.1%',
    '--monte-carlo',
    '2000',
  ])
  expect(code).toBe(0)
  expect(out).toContain('Within the limits of class 0.5')
  expect(out).toContain('check the standard')
  expect(out).toContain('checked by 2000 calibrations drawn by chance (Monte Carlo)')
  expect(out).not.toMatch(/certif/i)
})

test('options of the fit', async () => {
  expect((await json(points, '--degree', '2')).coefficients).toHaveLength(3)
  expect((await json(points, '--rising-only')).df).toBe(16)
  expect((await json(points, '--leave-out', '4,5')).points.filter(p => !p.used).map(p => p.line)).toEqual([
    4, 5,
  ])
  expect((await json(points, '--through-zero')).coefficients[0]).toBe(0)
  expect((await json(points, '--used-to', '200N')).warnings.map(w => w.code)).toContain('range-not-covered')
})

test('a stack of everyday references', async () => {
  const references = file(
    'home.json',
    JSON.stringify({
      references: {
        jug: { kind: 'water', litres: 1, litresLimit: 0.005, temperatureC: 20 },
        plate: { kind: 'weight', kg: 2, class: 'M1' },
        coins: { kind: 'coins', count: 40, coin: '1 euro' },
      },
    }),
  )
  const stacks = file(
    'stacks.csv',
    'stack;reading (N)\n0;0,00\ncoins;2,94\njug;9,79\nplate;19,61\njug + plate;29,40\njug + plate + coins;32,34\n',
  )
  const found = await json(stacks, '--references', references, '--latitude', '45')
  expect(found.points[1]!.appliedN).toBeCloseTo(0.3 * found.gravity, 9)
  expect(found.points[2]!.appliedN).toBeCloseTo(0.9982067 * found.gravity * (1 - 1.2 / 998.2067), 4)
  expect(found.uncertainty.at(-1)!.parts.map(p => p.source)).toEqual(
    expect.arrayContaining(['reference jug', 'reference plate', 'reference coins']),
  )
  const { err, code } = await ran(['calibrate', stacks])
  expect(code).toBe(3)
  expect(err).toContain('no reference is called “coins”')
})

describe('files', () => {
  test('a figure, as SVG and PNG', async () => {
    const svg = join(folder, 'residuals.svg')
    const png = join(folder, 'residuals.png')
    expect((await ran(['calibrate', points, '--figure', svg])).code).toBe(0)
    expect(readFileSync(svg, 'utf8')).toContain('class 0.5')
    expect((await ran(['calibrate', points, '--figure', png])).code).toBe(0)
    expect(readFileSync(png).subarray(1, 4).toString()).toBe('PNG')
    expect((await ran(['calibrate', points, '--figure', join(folder, 'x.gif')])).code).toBe(2)
  })
  test('added to a rig file, which is begun where there is none and kept where there is', async () => {
    const rig = join(folder, 'new-rig.json')
    await ran(['calibrate', points, '--save', rig, '--date', '2026-05-03', '--latitude', '52'])
    await ran(['calibrate', points, '--save', rig, '--date', '2026-06-03'])
    const saved = JSON.parse(readFileSync(rig, 'utf8'))
    expect(saved.calibrations.map((c: { date: string }) => c.date)).toEqual(['2026-05-03', '2026-06-03'])
    // The second had no place of its own: the rig's latest calibration knows it.
    expect(saved.calibrations[1].gravity).toBe(saved.calibrations[0].gravity)
  })
  test('a broken rig file is not written over', async () => {
    const rig = file('broken.json', '{"cell": 3}')
    const { code } = await ran(['calibrate', points, '--save', rig])
    expect(code).toBe(3)
    expect(readFileSync(rig, 'utf8')).toBe('{"cell": 3}')
  })
})

describe('bad input is an answer', () => {
  const err = async (text: string, ...words: string[]) => {
    const { code, err: told } = await ran(['calibrate', file('bad.csv', text), ...words])
    expect(code).toBe(3)
    return told
  }
  test('no file', async () => {
    const { code, err: told } = await ran(['calibrate', join(folder, 'none.csv')])
    expect(code).toBe(3)
    expect(told).toContain('no such file')
  })
  test('text in a column of numbers, by line', async () =>
    expect(await err('mass (kg),reading (counts)\n0,1\none,2\n2,3\n')).toContain(
      'bad.csv, line 3, load: “one”',
    ))
  test('one mass', async () =>
    expect(await err('mass (kg),reading (counts)\n0,1\n0,2\n1,2000\n1,2001\n')).toContain('rig quick'))
  test('nothing in it', async () => expect(await err('')).toContain('empty'))
  test('a wrong unit', async () =>
    expect(await err('mass (kg),reading (counts)\n0,1\n1,2\n2,3\n', '--load-unit', 'stone')).toContain(
      'stone',
    ))
  test('a height without a latitude, and two gravities', async () => {
    expect((await ran(['calibrate', points, '--height', '30'])).err).toContain('--latitude')
    expect((await ran(['calibrate', points, '--gravity', '9.81', '--latitude', '50'])).code).toBe(3)
  })
  test('the command line', async () => {
    expect((await ran(['calibrate'])).code).toBe(2)
    expect((await ran(['calibrate', points, '--gravity', '98'])).code).toBe(2)
    expect((await ran(['calibrate', points, '--latitude', '120'])).code).toBe(2)
    expect((await ran(['calibrate', points, '--degree', '7'])).code).toBe(2)
    expect((await ran(['calibrate', points, '--date', '2026-02-30'])).code).toBe(2)
  })
})

test('what can serve as a known load', async () => {
  const { code, out } = await ran(['calibrate', '--list-references'])
  expect(code).toBe(0)
  expect(out).toContain('Water by volume')
  expect(existsSync(points)).toBe(true)
})

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { EXIT } from '../../../src/cli/io.ts'
import { type Plan, planSchema } from '../../../src/core/statistics/plan/document.ts'
import { ran } from '../fakeIo.ts'

let folder = ''
const at = (name: string) => join(folder, name)
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-plan-'))
  writeFileSync(
    at('earlier.csv'),
    'variant,peak\npaste,61\npaste,54\npaste,63\nstitch,89\nstitch,97\nstitch,81\n',
  )
})
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const planned = async (...words: string[]): Promise<Plan> => {
  const { out, err, code } = await ran(['plan', '--json', ...words])
  expect({ err, code }).toEqual({ err: '', code: EXIT.ok })
  return planSchema.parse(JSON.parse(out))
}

test('a rig that was checked says what it cannot show, and whether it must warm up', async () => {
  const found = { at: '2031-05-04T10:00:00.000Z', healthy: false, findings: [], rateHz: 80, noise: 0.3 }
  const health = [{ ...found, forceUnit: 'gf', leastDropN: 2.1, waitMin: 11.2 }]
  writeFileSync(at('checked.json'), JSON.stringify({ name: 'nut rig', health }))
  const { rig } = await planned(
    '--variants',
    'a,b',
    '--mean',
    '70',
    '--scatter',
    '7',
    '--rig',
    at('checked.json'),
  )
  const told = rig.filter(c => c.check === 'least-drop' || c.check === 'warm-up')
  expect(told.map(c => c.text)).toEqual([
    'With this rig a drop under 2.10 N cannot be seen, 3.00 % of the peak expected (its check of 2031-05-04).',
    'Switch the rig on 12 minutes before the first pull: until then its zero moves (its check of 2031-05-04).',
  ])
  // In raw counts nothing is known in newton.
  writeFileSync(at('raw.json'), JSON.stringify({ health: [{ ...health[0], forceUnit: 'counts' }] }))
  const raw = await planned('--variants', 'a,b', '--mean', '70', '--scatter', '7', '--rig', at('raw.json'))
  expect(raw.rig.map(c => c.check)).not.toContain('least-drop')
})

describe('how many', () => {
  test('for a difference of 10 with a scatter of 7, 9 times in 10: 12 of each (SciPy stats.nct, see power.test.ts)', async () => {
    const plan = await planned(
      '--variants',
      'a,b',
      '--mean',
      '100',
      '--scatter',
      '7',
      '--difference',
      '10',
      '--power',
      '0.9',
    )
    expect(plan).toMatchObject({ perGroup: 12, unit: 'N', scatter: { sd: 7, cv: 0.07, from: 'guess' } })
    expect(plan.order).toHaveLength(24)
    expect(plan.because).toBe(
      'With a scatter of 7.0 %, pull 12 of each to see a difference of 10.0 N (10 %) 9 times in 10.',
    )
  })
  test('percentages alone plan in percent of a mean that need not be known', async () => {
    const plan = await planned(
      '--variants',
      'a,b',
      '--scatter',
      '7%',
      '--difference',
      '10%',
      '--power',
      '90%',
    )
    expect(plan).toMatchObject({ perGroup: 12, unit: '%', scatter: { mean: null } })
  })
  test('three variants share the chance of a false alarm: more of each', async () => {
    const plan = await planned(
      '--variants',
      'a,b,c',
      '--scatter',
      '7%',
      '--difference',
      '10%',
      '--power',
      '0.9',
    )
    expect(plan.perGroup).toBeGreaterThan(12)
  })
  test('the most that any goal asks for, and what each asks', async () => {
    const plan = await planned(
      '--variants',
      'a',
      '--mean',
      '100',
      '--scatter',
      '7',
      '--half-width',
      '5',
      '--bound',
      '90',
      '--bound-within',
      '5',
    )
    expect(plan.goals.map(g => [g.goal, g.perGroup])).toEqual([
      ['half-width', 13],
      ['bound', 17],
    ])
    expect(plan.perGroup).toBe(17)
  })
  test('from the scatter of earlier records within their groups', async () => {
    const plan = await planned('--records', at('earlier.csv'), '--difference', '10%')
    expect(plan).toMatchObject({ variants: ['paste', 'stitch'], scatter: { from: 'records' } })
    // √((2·22.333 + 2·64)/4), the pooled variance of 61, 54, 63 and 89, 97, 81
    expect(plan.scatter.sd).toBeCloseTo(Math.sqrt((2 * (67 / 3) * 1 + 2 * 64) / 4), 6)
  })
  test('what no number can do is said, and no order is made', async () => {
    const plan = await planned(
      '--variants',
      'a',
      '--mean',
      '100',
      '--scatter',
      '7',
      '--bound',
      '90',
      '--bound-above',
      '99',
    )
    expect(plan.goals[0]!.perGroup).toBeNull()
    expect(plan.warnings.map(w => w.code)).toContain('out-of-reach')
    expect(plan.order).toEqual([])
  })
})

describe('order and rig', () => {
  test('the seed brings the order back; without one another is drawn and printed', async () => {
    const [one, two] = [await planned('--seed', '7'), await planned('--seed', '7')]
    expect(one.order).toEqual(two.order)
    expect((await ran(['plan', '--seed', '7'])).out).toMatch(/seed 7 brings it back/)
    expect((await ran(['plan', '--each', '3'])).out).toMatch(/seed \d+ brings it back/)
  })
  test('checks of the rig with their cure', async () => {
    const plan = await planned(
      '--mean',
      '70',
      '--scatter',
      '8%',
      '--capacity',
      '500',
      '--rate',
      '10',
      '--speed',
      '10',
      '--extension',
      '60',
      '--stroke',
      '40',
    )
    expect(plan.rig.map(c => [c.check, c.ok])).toEqual([
      ['capacity', false],
      ['sampling', false],
      ['under-read', false],
      ['stroke', false],
    ])
  })
  test('a description of the rig fills what is not told', async () => {
    writeFileSync(
      at('rig.json'),
      JSON.stringify({ cell: { capacityN: 200 }, converter: { rateHz: 80 }, strokeMm: 40 }),
    )
    const plan = await planned(
      '--mean',
      '70',
      '--scatter',
      '8%',
      '--rig',
      at('rig.json'),
      '--extension',
      '100',
      '--time-to-break',
      '20',
    )
    expect(plan.rig.map(c => [c.check, c.ok])).toEqual([
      ['capacity', true],
      ['sampling', true],
      ['under-read', true],
      ['stroke', false],
    ])
  })
  test('a capacity in kgf is held against a mean in kgf', async () => {
    const plan = await planned('--mean', '20', '--unit', 'kgf', '--scatter', '8%', '--capacity', '50')
    expect(plan.rig[0]).toMatchObject({ check: 'capacity', ok: true, text: expect.stringContaining('40 %') })
  })
})

test('after the pulls so far: what would settle it, with the limit and its source', async () => {
  const { out } = await ran(['plan', '--each', '6', '--scatter', '8%', '--so-far', at('earlier.csv')])
  expect(out).toMatch(/1 more of paste and 1 more of stitch would settle paste against stitch/)
  expect(out).toMatch(/Lan and DeMets \(Biometrika 70 \(1983\) 659\)/)
})

test('the power curve as a figure', async () => {
  expect(
    (await ran(['plan', '--scatter', '7%', '--difference', '10%', '--figure', at('power.svg')])).code,
  ).toBe(EXIT.ok)
  expect(readFileSync(at('power.svg'), 'utf8')).toMatch(
    /<desc>2 of each: 14 %; 4 of each: 40 %;.*pull 9 of each/,
  )
})

test('what does not go together is a matter of the command line', async () => {
  for (const words of [
    ['--scatter', '-3'],
    ['--variants', 'a,,b'],
    ['--variants', 'a,a'],
    ['--power', '1.2'],
    ['--bound-above', '50'],
    ['--scatter', '5', '--difference', '10%'],
    ['--half-width', '5%', '--figure', 'x.svg'],
    ['--scatter', '5%', '--records', 'x.csv'],
  ])
    expect((await ran(['plan', ...words])).code, words.join(' ')).toBe(EXIT.usage)
  expect((await ran(['plan', '--records', at('nothing.csv')])).code).toBe(EXIT.input)
})

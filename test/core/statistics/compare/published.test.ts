import { describe, expect, test } from 'vitest'
import { blockedLayout } from '../../../../src/core/statistics/compare/blocks.ts'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { censoredMean } from '../../../../src/core/statistics/group/censoredMean.ts'

/** Worked examples of others for what the comparison does as a whole. The source of data and figures stands beside each. */

describe('two one-sided tests: extra hours of sleep by two drugs, ten people each, within half an hour?', () => {
  // Student, Biometrika 6 (1908) 1; data as in R's help page datasets::sleep. Worked by the vignette IntroTOSTt of R's package TOSTER, taken as independent groups with a margin of
  // ± 0.5: t(17.78) = −1.272, p = 0.890 and t = −2.450, p = 0.012, so not shown; 90 % interval −3.05 to −0.11 (to more digits by SciPy 1.17.1).
  const drugs = [
    [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0],
    [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4],
  ]
  const specimens = drugs.flatMap((hours, g) =>
    hours.map((h, i) => plainSpecimen(`${g} ${i}`, `drug ${g + 1}`, h)),
  )
  const margin = (share: number) =>
    compareGroups(specimens, { quantity: 'hours', unit: 'h', worthShare: share }).pairs[0]!
  // The margin is a share of the mean of the two means, 1.54 h.
  const pair = margin(0.5 / 1.54)
  test('the interval and the margin', () => {
    expect(pair.equivalence!.margin).toBeCloseTo(0.5, 12)
    expect(pair.equivalence!.ci90[0]).toBeCloseTo(-3.0533814973, 9)
    expect(pair.equivalence!.ci90[1]).toBeCloseTo(-0.1066185027, 9)
    expect(pair.equivalence!.shown).toBe(false)
    expect(pair.verdict).toBe('undecided')
  })
  test('shown from the margin on at which the greater p comes under 0.05, and not before', () => {
    expect(margin(3.0533 / 1.54).equivalence!.shown).toBe(false)
    expect(margin(3.0535 / 1.54).equivalence!.shown).toBe(true)
  })
})

describe('random effects: three machines run by six workers, three times each', () => {
  // Milliken and Johnson, Analysis of Messy Data 1, 1992, chapter 23; also in Pinheiro and Bates, Mixed-Effects Models in S and
  // S-PLUS, 2000, section 1.3 (data: R's nlme::Machines): machine means 52.36, 60.32, 66.27; the machines differ by 7.97 and 13.92, each ± 2.18 (standard error) on 10 df.
  const rows = [
    [
      '52.0 52.8 53.1',
      '51.8 52.8 53.1',
      '60.0 60.2 58.4',
      '51.1 52.3 50.3',
      '50.9 51.8 51.4',
      '46.4 44.8 49.2',
    ],
    [
      '62.1 62.6 64.0',
      '59.7 60.0 59.0',
      '68.6 65.8 69.7',
      '63.2 62.8 62.2',
      '64.8 65.0 65.4',
      '43.7 44.2 43.0',
    ],
    [
      '67.5 67.2 66.9',
      '61.5 61.7 62.3',
      '70.8 70.6 71.0',
      '64.1 66.2 64.0',
      '72.1 72.0 71.1',
      '62.0 61.4 60.5',
    ],
  ]
  const observations = rows.flatMap((cells, group) =>
    cells.flatMap((cell, block) => cell.split(' ').map(v => ({ group, block, value: Number(v) }))),
  )
  const layout = blockedLayout(observations)
  if (layout === null || layout === 'untied') throw new Error('no layout')
  test('judged against how the workers react to the machines', () => {
    expect(layout.interaction).toMatchObject({ df1: 10, df2: 36, judgedAgainst: true })
    expect(layout.interaction!.f).toBeCloseTo(46.13, 2)
    expect(layout.groups.f).toBeCloseTo(20.576, 3)
    expect(layout.groups.p).toBeCloseTo(2.855e-4, 7)
  })
  test.each([
    [0, -7.9667],
    [1, -13.9167],
    [2, -5.95],
  ])('pair %i', (i, difference) => {
    const pair = layout.pairs[i]!
    expect(pair.difference).toBeCloseTo(difference, 4)
    expect(pair.standardError).toBeCloseTo(2.177, 3)
    expect(pair.df).toBe(10)
  })
})

describe('what had not failed when the test ended: hours of motor insulation', () => {
  // Nelson and Hahn, Technometrics 14 (1972) 247 (R's SMPracticals::motorette): logarithms of hours at two temperatures. Maximum likelihood by SciPy 1.17.1,
  // stats.norm.fit(stats.CensoredData(uncensored, right)); ours has r − 1 of the r that failed in the variance.
  const log = (hours: readonly number[]) => hours.map(Math.log10)
  test.each([
    [[408, 408, 1344, 1344, 1440], [1680, 1680, 1680, 1680, 1680], 3.23800466622, 0.39945153393],
    [[1764, 2772, 3444, 3542, 3780, 4860, 5196], [5448, 5448, 5448], 3.63546484292, 0.20272122829],
  ] as const)('%#', (failed, running, mean, sd) => {
    const found = censoredMean(Float64Array.from([...log(failed), ...log(running)]), [
      ...failed.map(() => false),
      ...running.map(() => true),
    ])!
    expect(found.mean).toBeCloseTo(mean, 2)
    expect(found.sd / sd).toBeGreaterThan(1)
    expect(found.sd / sd).toBeLessThan(1.35)
  })
})

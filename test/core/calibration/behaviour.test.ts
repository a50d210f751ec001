import { describe, expect, test } from 'vitest'
import { checkChart, driftsAway } from '../../../src/core/calibration/checkChart.ts'
import { type Check, parseChecks } from '../../../src/core/calibration/checkDocument.ts'
import { type CheckFigures, judgeCheck } from '../../../src/core/calibration/judgeCheck.ts'
import { findHang, findPlateaus } from '../../../src/core/calibration/plateaus.ts'
import { rigSchema } from '../../../src/core/calibration/rig.ts'
import { creepOf, settlingOf } from '../../../src/core/calibration/settling.ts'
import { rigStiffness } from '../../../src/core/calibration/stiffness.ts'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import { recordingOf, standing } from './recordings.ts'

describe('where the reading stands still', () => {
  for (const [noise, step] of [
    [0.01, 0],
    [0.2, 0],
    [0.002, 0.05],
  ] as const)
    test(`rest, mass, rest, through noise ${noise} and steps of ${step}`, () => {
      const recording = standing(
        [
          [4, 0.3],
          [5, 10.1],
          [4, 0.3],
        ],
        { noise, step },
      )
      expect(findPlateaus(recording)).toHaveLength(3)
      const { rest, loaded } = findHang(recording)!
      expect(Math.abs(loaded.level - rest.level - 9.8)).toBeLessThan(5 * noise + step / 2 + 1e-9)
      expect(loaded.standard).toBeGreaterThan(0)
    })
  test('a mass that lowers the reading is found as well', () => {
    const hang = findHang(
      standing(
        [
          [4, 0],
          [5, -10],
          [4, 0],
        ],
        { noise: 0.01 },
      ),
    )!
    expect(hang.loaded.level - hang.rest.level).toBeCloseTo(-10, 1)
  })
  test('one level only is no hang', () => {
    expect(findHang(standing([[10, 3]], { noise: 0.05 }))).toBeNull()
    expect(findHang(recordingOf([]))).toBeNull()
  })
})

describe('the daily check', () => {
  const quick = {
    document: 'tenterhook.quick-scale',
    version: 1,
    date: '2026-05-01',
    basis: 'one-mass',
    readingUnit: 'counts',
    newtonPerReading: 0.0005,
    zeroReading: 50_000,
    appliedN: 100,
    doubtPct: 1,
  }
  const rig = rigSchema.parse({ cell: { capacityN: 200 }, calibrations: [quick] })
  const calibration = rig.calibrations[0]!
  const figures = (indicatedN: number, more: Partial<CheckFigures> = {}): CheckFigures => ({
    at: '2026-06-20T08:00:00Z',
    appliedN: 10,
    appliedStandardN: 0.005,
    indicatedN,
    indicatedStandardN: 0.002,
    zeroN: 0.01,
    greatestN: 11,
    ...more,
  })
  const earlier = (errors: readonly number[]): Check[] =>
    errors.map((pct, i) => ({
      document: 'tenterhook.check',
      version: 1,
      at: `2026-06-${String(i + 1).padStart(2, '0')}T08:00:00Z`,
      appliedN: 10,
      appliedStandardN: 0.005,
      indicatedN: 10 * (1 + pct / 100),
      indicatedStandardN: 0.002,
      zeroN: 0,
      calibration: '2026-05-01',
      verdict: 'within',
      findings: [],
    }))
  const codes = (...args: Parameters<typeof judgeCheck>) =>
    judgeCheck(...args).check.findings.map(f => f.code)

  test('within the doubt of the calibration', () => {
    const judged = judgeCheck(figures(10.05), [], rig, calibration)
    expect(judged.check.verdict).toBe('within')
    expect(judged.errorPct).toBeCloseTo(0.5, 9)
    expect(judged.limitPct).toBeGreaterThan(1)
  })
  test('the scale moved', () => expect(codes(figures(10.3), [], rig, calibration)).toEqual(['scale-moved']))
  test('the user’s own limit', () =>
    expect(
      codes(figures(10.05), [], rigSchema.parse({ ...rig, limits: { checkPct: 0.3 } }), calibration),
    ).toEqual(['scale-moved']))
  test('unlike the earlier checks, though within the doubt: a word, no more', () => {
    const { check } = judgeCheck(
      figures(10.09),
      earlier([0.02, -0.03, 0.01, -0.02, 0.03, 0]),
      rig,
      calibration,
    )
    expect(check.findings.map(f => f.code)).toEqual(['outside-chart'])
    expect(check.verdict).toBe('within')
  })
  test('a drift: eight in a row on one side', () => {
    const checks = earlier([
      -0.1,
      0.1,
      -0.1,
      0.1,
      -0.1,
      0.1,
      -0.1,
      0.1,
      -0.1,
      0.1,
      -0.1,
      0.1,
      -0.1,
      0.1,
      -0.1,
      0.1,
      -0.1,
      0.1,
      -0.1,
      0.1,
      ...Array(7).fill(0.08),
    ])
    expect(codes(figures(10.008, { at: '2026-06-29T08:00:00Z' }), checks, rig, calibration)).toEqual([
      'drift',
    ])
  })
  test('a zero that moved by over 1 % of the range tells of an overload', () =>
    expect(codes(figures(10, { zeroN: 1.5 }), [], rig, calibration)).toEqual(['zero-moved-far']))
  test('the cell was overloaded while checking', () =>
    expect(codes(figures(10, { greatestN: 210 }), [], rig, calibration)).toEqual(['over-capacity']))
  test('an old calibration is told, and puts no check out', () => {
    const judged = judgeCheck(figures(10, { at: '2027-06-20T08:00:00Z' }), [], rig, calibration)
    expect(judged.check.findings.map(f => f.code)).toEqual(['calibration-old'])
    expect(judged.check.verdict).toBe('within')
  })
  test('checks under another calibration do not count', () => {
    const others = earlier([5, 5, 5, 5, 5, 5, 5]).map(c => ({ ...c, calibration: '2025-01-01' }))
    expect(judgeCheck(figures(10), others, rig, calibration).chart).toBeNull()
  })
  test('nor do checks with another mass, or after this one', () => {
    const others = earlier([5, 5, 5, 5, 5, 5, 5])
    expect(judgeCheck(figures(20, { appliedN: 20 }), others, rig, calibration).chart).toBeNull()
    expect(judgeCheck(figures(10, { at: '2026-05-30T08:00:00Z' }), others, rig, calibration).chart).toBeNull()
  })
  test('the file: a cut last line is left out and told, any other fault is a problem', () => {
    const line = JSON.stringify(earlier([0.1])[0])
    const cut = parseChecks(`${line}\n{"docum`, 'c.jsonl')
    expect(cut.ok && [cut.value.checks.length, cut.value.cut]).toEqual([1, true])
    const broken = parseChecks(`{"docum\n${line}\n`, 'c.jsonl')
    expect(broken.ok ? '' : broken.problems[0]?.where).toBe('c.jsonl, line 1')
  })
})

describe('the chart of single values', () => {
  const values = [
    310, 288, 297, 298, 307, 303, 294, 297, 308, 306, 294, 299, 297, 299, 314, 295, 293, 306, 301, 304,
  ]
  const sound = (of: readonly number[]) => of.map(value => ({ value, sound: true }))
  test('centre ± 3 mean moving range/1.128, by the definition (1.1284: table of d2, from memory)', () => {
    const chart = checkChart(sound(values), 300, 0)!
    expect(chart.centre).toBeCloseTo(300.5, 12) // sum 6010
    // |differences| 22 9 1 9 4 9 3 11 2 12 5 2 2 15 19 2 13 5 3 add up to 148, over 19.
    expect(chart.high - chart.centre).toBeCloseTo((3 * 148) / 19 / 1.1284, 2)
    expect(chart.centre - chart.low).toBeCloseTo(chart.high - chart.centre, 12)
  })
  test('five checks are too few for limits', () =>
    expect(checkChart(sound(values.slice(0, 5)), 300, 0)).toBeNull())
  test('the limits come from the first twenty, never from the one to be judged', () => {
    const chart = checkChart(sound([...values, 900]), 900, 0)!
    expect(chart.from).toBe(20)
    expect(chart.values.at(-1)).toBe(900)
    expect(checkChart(sound(values), 9999, 0)!.high).toBe(chart.high)
  })
  test('a check that was out makes no limits', () => {
    const chart = checkChart([{ value: 900, sound: false }, ...sound(values)], 300, 0)!
    expect(chart.centre).toBeCloseTo(300.5, 12)
  })
  test('equal values do not make limits of no width', () => {
    const chart = checkChart(sound([1, 1, 1, 1, 1, 1]), 1, 0.1)!
    expect(chart.high - chart.low).toBeCloseTo(0.6, 12)
  })
  test('eight on one side', () => {
    const chart = checkChart(sound([0, 2, 0, 2, 0, 2]), 0, 0)!
    expect(driftsAway({ ...chart, values: [...chart.values, 1.1, 1.1, 1.1, 1.1, 1.1, 1.1, 1.1, 1.1] })).toBe(
      true,
    )
    expect(driftsAway(chart)).toBe(false)
  })
})

describe('the stiffness of the rig', () => {
  const pull = (nPerMm: number, slackMm = 0, noise = 0) => {
    const random = seededRandom(9)
    const travel = Float64Array.from({ length: 200 }, (_, i) => i * 0.01)
    const forceN = travel.map(mm => Math.max(0, mm - slackMm) * nPerMm + noise * random.normal())
    return { forceN, travel }
  }
  const found = (...args: Parameters<typeof rigStiffness>) => {
    const outcome = rigStiffness(...args)
    if (!outcome.ok) throw new Error(outcome.problems[0]?.what)
    return outcome.value
  }
  test('slack is passed over', () => {
    const { forceN, travel } = pull(150, 0.3)
    expect(found(forceN, travel, 'bar.csv').nPerMm).toBeCloseTo(150, 6)
  })
  test('through noise, within its own doubt', () => {
    const { forceN, travel } = pull(150, 0.3, 1)
    const { nPerMm, standardNPerMm } = found(forceN, travel, 'bar.csv')
    expect(Math.abs(nPerMm - 150)).toBeLessThan(3 * standardNPerMm)
    expect(standardNPerMm).toBeLessThan(3)
  })
  test('the bar’s own give is taken off', () => {
    const { forceN, travel } = pull(100)
    expect(found(forceN, travel, 'bar.csv', { barNPerMm: 400 }).nPerMm).toBeCloseTo(
      1 / (1 / 100 - 1 / 400),
      6,
    )
    expect(rigStiffness(forceN, travel, 'bar.csv', { barNPerMm: 50 }).ok).toBe(false)
  })
  test('a travel that does not move, and too few samples', () => {
    const { forceN, travel } = pull(100)
    expect(
      rigStiffness(
        forceN,
        travel.map(() => 3),
        'bar.csv',
      ).ok,
    ).toBe(false)
    expect(rigStiffness(forceN.subarray(0, 8), travel.subarray(0, 8), 'bar.csv').ok).toBe(false)
  })
})

describe('settling', () => {
  const warming = (tauS: number, lastS: number) => {
    const random = seededRandom(2)
    return recordingOf(
      Array.from({ length: lastS * 2 }, (_, i) => 3 * Math.exp(-i / 2 / tauS) + 0.01 * random.normal()),
      { rateHz: 2 },
    )
  }
  test('a zero that warms up: the time after which it stays', () => {
    const settling = settlingOf(warming(120, 1800), 0.1)!
    // 3 exp(−t/120) falls to 0.1 at t = 408 s.
    expect(Math.abs(settling.settledAtS! - 408)).toBeLessThan(45)
    expect(settling.change).toBeCloseTo(-2.67, 0)
  })
  test('one that still moves at the end is not called settled', () => {
    const settling = settlingOf(warming(1800, 600), 0.05)!
    expect(settling.settledAtS).toBeNull()
    expect(settling.ratePerMinute).toBeLessThan(-0.05)
  })
  test('too short to tell', () => expect(settlingOf(recordingOf([1, 2, 3]))).toBeNull())
  test('creep under a mass, and the zero’s return', () => {
    const recording = standing(
      [
        [10, 0],
        [300, 50],
        [10, 0.05],
      ],
      { noise: 0.002, creep: 0.004, rateHz: 5 },
    )
    const creep = creepOf(recording)!
    // From 5 to 10 s on until 295 to 300 s: 0.4 % × (exp(−7.5/60) − exp(−297.5/60)).
    expect(creep.creepPct).toBeCloseTo(0.35, 1)
    expect(creep.heldS).toBeGreaterThan(280)
    expect(creep.zeroReturnPct).toBeCloseTo(0.1, 1)
  })
  test('no hold, no creep', () =>
    expect(
      creepOf(
        standing(
          [
            [10, 0],
            [8, 50],
            [5, 0],
          ],
          { noise: 0.01 },
        ),
      ),
    ).toBeNull())
})

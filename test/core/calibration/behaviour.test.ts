import { describe, expect, test } from 'vitest'
import { ALARM, checkChart } from '../../../src/core/calibration/checkChart.ts'
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
  test('the scale moved: beyond its doubt and what a rig scatters from day to day', () => {
    expect(codes(figures(10.4), [], rig, calibration)).toEqual(['scale-moved'])
    // Doubt 1 % (95 %) and a day’s 1 % (sd), at one in 200: 2.807 √(0.51² + 0.05² + 1²) = 3.2 %.
    expect(codes(figures(10.3), [], rig, calibration)).toEqual([])
    expect(judgeCheck(figures(10.3), [], rig, calibration).limitPct).toBeCloseTo(3.15, 1)
  })
  test('an error that stays is told, though no single check passes its limit', () => {
    const checks = earlier([2.1, 1.9, 2, 2.2, 1.8, 2, 2.1, 1.9])
    expect(codes(figures(10.2), checks, rig, calibration)).toEqual(['scale-moved'])
  })
  test('an error that stays is told by the mean of all, where days scatter too much for a single one', () => {
    const checks = earlier(Array.from({ length: 12 }, (_, i) => (i % 2 === 0 ? 3 : 1)))
    const { check, limitPct, errorPct } = judgeCheck(figures(10.2), checks, rig, calibration)
    expect(Math.abs(errorPct)).toBeLessThan(limitPct!)
    // Thirteen errors with a mean of 2 %, the last of them this one’s.
    expect(check.findings[0]).toMatchObject({
      code: 'scale-moved',
      text: expect.stringMatching(/^All checks so far lie \D*2\.00 % off the known mass on average/),
    })
    expect(check.verdict).toBe('out')
  })
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
  test('a drift: the latest together, none alone', () => {
    const before = Array.from({ length: 10 }, (_, i) => (i % 2 === 0 ? -0.1 : 0.1))
    const checks = earlier([...before, 0.17, 0.2, 0.19, 0.22, 0.21, 0.24])
    expect(codes(figures(10.025), checks, rig, calibration)).toEqual(['drift'])
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

describe('the self-starting chart of checks', () => {
  const sound = (of: readonly number[]) => of.map(value => ({ value, sound: true }))
  test('its limits are those of a next value by t: 1, 2 and 3 before', () => {
    const chart = checkChart(sound([1, 2, 3]), 4, 0)!
    // Mean 2, sd 1; t(1 − 1/800, 2 degrees) from 1/(2√2 … ): P(|T₂| > t) = 1 − t/√(2 + t²) = 1/400.
    const t = Math.sqrt((2 * (1 - ALARM) ** 2) / (1 - (1 - ALARM) ** 2))
    expect(chart.high - chart.centre).toBeCloseTo(t * Math.sqrt(4 / 3), 9)
    expect(chart.centre - chart.low).toBeCloseTo(chart.high - chart.centre, 12)
    expect(chart).toMatchObject({ centre: 2, sd: 1, from: 3 })
  })
  test('two checks are too few for limits', () => expect(checkChart(sound([1, 2]), 2, 0)).toBeNull())
  test('the newest makes no limits, nor does a check that was out', () => {
    const chart = checkChart([{ value: 900, sound: false }, ...sound([1, 2, 3])], 300, 0)!
    expect(chart).toMatchObject({ centre: 2, from: 3, values: [900, 1, 2, 3, 300] })
  })
  test('equal values do not make limits of no width', () => {
    const chart = checkChart(sound([1, 1, 1, 1, 1, 1]), 1, 0.1)!
    expect(chart.sd).toBe(0.1)
    expect(chart.high).toBeGreaterThan(1.4)
  })
  test('one check in 200 of a healthy rig is told, from the fourth on', () => {
    const random = seededRandom(8)
    let alarms = 0
    let all = 0
    for (let rig = 0; rig < 150; rig++) {
      const values = [random.normal(), random.normal(), random.normal()]
      for (let day = 0; day < 20; day++) {
        const newest = random.normal()
        const { low, high, drift } = checkChart(sound(values), newest, 0)!
        if (newest < low || newest > high || Math.abs(drift) > 1) alarms++
        all++
        values.push(newest)
      }
    }
    expect(alarms / all).toBeGreaterThan(0.001)
    expect(alarms / all).toBeLessThan(0.01)
  })
  test('a drift of a fifth of the scatter a day is told within a month, while no single check is', () => {
    const random = seededRandom(3)
    const values = Array.from({ length: 10 }, () => random.normal())
    let told = 0
    for (let day = 1; day <= 30 && told === 0; day++) {
      const newest = 0.2 * day + random.normal()
      if (Math.abs(checkChart(sound(values), newest, 0)!.drift) > 1) told = day
      values.push(newest)
    }
    expect(told).toBeGreaterThan(0)
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

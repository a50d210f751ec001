import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type CalibrateOptions, calibrate } from '../../../src/core/calibration/calibrate.ts'
import { lackOfFit } from '../../../src/core/calibration/chooseDegree.ts'
import { calibrationSchema } from '../../../src/core/calibration/document.ts'
import type { Point } from '../../../src/core/calibration/points.ts'
import { fitPolynomial } from '../../../src/core/calibration/polynomial.ts'
import { readingStep } from '../../../src/core/calibration/resolution.ts'
import { seededRandom } from '../../../src/core/statistics/random.ts'
import type { LogForceUnit } from '../../../src/core/units/force.ts'
import { UNKNOWN_GRAVITY } from '../../../src/core/units/gravity.ts'

const run = (
  points: readonly Point[],
  options: CalibrateOptions = {},
  readingUnit: LogForceUnit = 'counts',
) => calibrate({ name: 'points.csv', points, doubts: [], gravity: UNKNOWN_GRAVITY, readingUnit }, options)

const done = (points: readonly Point[], options: CalibrateOptions = {}, unit: LogForceUnit = 'counts') => {
  const outcome = run(points, options, unit)
  if (!outcome.ok) throw new Error(outcome.problems.map(p => p.what).join(' '))
  return outcome.value
}

const codes = (points: readonly Point[], options: CalibrateOptions = {}, unit: LogForceUnit = 'counts') =>
  done(points, options, unit).warnings.map(w => w.code)

/** Three runs up of a rig: reading = 1000 + 2000 F, bent and noisy as asked. */
function runs({ noise = 0, bend = 0, cycles = 3, seed = 1 } = {}): Point[] {
  const random = seededRandom(seed)
  return Array.from({ length: cycles }, (_, c) =>
    [0, 20, 40, 60, 80, 100].map((appliedN, k) => ({
      line: 2 + 6 * c + k,
      appliedN,
      reading: Math.round(1000 + 2000 * appliedN + bend * appliedN ** 2 + noise * random.normal()),
      direction: 'up' as const,
      cycle: c + 1,
    })),
  ).flat()
}

describe('worked classification: readings in newton, three runs up and one down (derived, invented readings)', () => {
  const trueN = [20, 40, 60, 80, 100]
  const rising = [
    [20.1, 40.1, 60.15, 80.1, 100.2],
    [20.05, 40.2, 60.05, 80.25, 100.1],
    [19.95, 40.05, 60.2, 80.2, 100.3],
  ]
  const falling = [20.3, 40.45, 60.5, 80.4, 100.2]
  const points: Point[] = [
    ...rising.flatMap((readings, c) =>
      readings.map((reading, k) => ({
        line: 0,
        appliedN: trueN[k]!,
        reading,
        direction: 'up' as const,
        cycle: c + 1,
      })),
    ),
    ...falling.map((reading, k) => ({
      line: 0,
      appliedN: trueN[k]!,
      reading,
      direction: 'down' as const,
      cycle: 1,
    })),
    { line: 0, appliedN: 0, reading: 0.06, direction: 'down', cycle: 1 },
  ]
  const found = done(points, { resolution: 0.05 }, 'N')

  test('each step as computed by hand', () => {
    const want = {
      indicationPct: [0.166_666_666_667, 0.291_666_666_667, 0.222_222_222_222, 0.229_166_666_667, 0.2],
      repeatabilityPct: [0.75, 0.375, 0.25, 0.1875, 0.2],
      reversibilityPct: [1, 0.875, 0.583_333_333_333, 0.375, 0],
      resolutionPct: [0.25, 0.125, 0.083_333_333_333, 0.0625, 0.05],
    } as const
    for (const [figure, values] of Object.entries(want))
      values.forEach((value, k) => {
        expect(found.steps[k]![figure as keyof typeof want]).toBeCloseTo(value, 9)
      })
    expect(found.errors.zeroPct).toBeCloseTo(0.06, 12)
    expect(found.steps.map(s => s.class)).toEqual(['1', '1', '0.5', '0.5', '0.5'])
  })
  test('within the limits of class 1, decided by repeatability at 20 N', () => {
    expect(found.class).toBe('1')
    expect(found.why).toContain('repeatability (b) is 0.75 % at 20 N, over 0.5 %')
    expect(found.range).toEqual({ fromN: 20, toN: 100 })
    expect(found.why).not.toMatch(/certif/i)
    expect(found.limitsNote).toContain('check the standard')
  })
  test('the display step is found from the readings', () =>
    expect(done(points.slice(0, -1), {}, 'N').resolution).toBeCloseTo(0.05, 12))
  test('the document keeps to its schema', () => {
    expect(calibrationSchema.parse(found)).toEqual(found)
  })
  test('the way up alone, when asked for', () => {
    const up = done(points, { risingOnly: true, resolution: 0.05 }, 'N')
    expect(up.df).toBe(13)
    expect(up.errors.reversibilityPct).toBeCloseTo(1, 9)
    expect(Math.abs(up.corrected!.errors.indicationPct!)).toBeLessThan(
      Math.abs(found.corrected!.errors.indicationPct!),
    )
  })
})

describe('the class', () => {
  test('a quiet straight rig in counts is within the limits of class 0.5', () => {
    const found = done(runs({ noise: 20 }))
    expect(found.class).toBe('0.5')
    expect(found.corrected).toBeNull()
    expect(found.why).toContain('Not measured: zero return, reversibility')
  })
  test('one run tells no repeatability, so no class', () => {
    const found = done(runs({ noise: 20, cycles: 1 }))
    expect(found.class).toBeNull()
    expect(found.why).toContain('repeatability is not known')
    expect(found.range).toEqual({ fromN: null, toN: null })
  })
  test('a noisy rig has none, and the figure that decided is named', () => {
    const found = done(runs({ noise: 3000, seed: 3 }))
    expect(found.class).toBeNull()
    expect(found.why).toMatch(/^Not within the limits of class 3: .* over \d/)
  })
  test('a coarse display forbids the low end of the range', () => {
    const points = [1, 2, 3].flatMap(cycle =>
      [0, 2, 20, 40, 60, 80, 100].map((appliedN, k) => ({
        line: 0,
        appliedN,
        reading: appliedN + (k === 3 && cycle === 2 ? 0.1 : 0),
        direction: 'up' as const,
        cycle,
      })),
    )
    const found = done(points, { resolution: 0.05 }, 'N')
    expect(found.class).toBe('0.5')
    expect(found.range.fromN).toBe(20) // at 2 N one step of 0.05 N is 2.5 %
  })
  test('a zero that does not come back decides', () => {
    const back = runs().concat({ line: 30, appliedN: 0, reading: 1000 + 500, direction: 'down', cycle: 3 })
    const found = done(back)
    expect(found.errors.zeroPct).toBeCloseTo(0.25, 2)
    expect(found.why).toContain('zero return (f0)')
  })
})

describe('no class that the test cannot carry', () => {
  const known = (share: number, points = runs({ noise: 30 })) => {
    const movesN = Float64Array.from(points, p => share * p.appliedN)
    const outcome = calibrate({
      name: 'points.csv',
      points,
      doubts: [{ source: 'masses', movesN, shape: 'normal' }],
      gravity: UNKNOWN_GRAVITY,
      readingUnit: 'counts',
    })
    if (!outcome.ok) throw new Error(outcome.problems.map(p => p.what).join(' '))
    return outcome.value
  }
  test('masses known to ± 5 % carry none, whatever the readings', () => {
    const { class: none, why, range } = known(0.05 / 1.96)
    expect(none).toBeNull()
    expect(why).toMatch(
      /^No class: .* class 0\.5, but the forces are only known to ±5\.00 %, and even class 3 asks for ±0\.60 %/,
    )
    expect(range).toEqual({ fromN: null, toN: null })
  })
  test('masses known to ± 0.3 % carry class 2; to ± 0.09 % class 0.5', () => {
    expect(known(0.003 / 1.96).class).toBe('2')
    expect(known(0.003 / 1.96).why).toMatch(/class 2 is the best that they can carry/)
    expect(known(0.0009 / 1.96).class).toBe('0.5')
  })
  test('two loads in two runs carry none', () => {
    const few = runs({ cycles: 2 }).filter(p => p.appliedN === 0 || p.appliedN === 40 || p.appliedN === 100)
    const { class: none, why } = done(few)
    expect(none).toBeNull()
    expect(why).toMatch(/5 loads \(there are 2\) and 3 runs \(there are 2\)/)
  })
})

describe('the step of the display, from the readings', () => {
  test('1, 2 or 5 of the last decimal, where many readings keep to it', () => {
    expect(readingStep([0.02, 0.04, 0.1, 0.16, 0.22, 0.28, 0.34, 0.5])).toBeCloseTo(0.02, 12)
    expect(readingStep([0.05, 0.15, 0.3, 0.45, 0.5, 0.65, 0.95, 1.1])).toBeCloseTo(0.05, 12)
    expect(readingStep([1, 2, 3])).toBe(1)
  })
  test('few round readings do not make a coarse display', () =>
    expect(readingStep([0, 20, 40, 60, 80, 100])).toBe(1))
  test('decimals as written count', () => expect(readingStep([0, 20, 40], 2)).toBe(0.01))
  test('averages have no step', () => expect(readingStep([1.23456789, 2.3456789])).toBeNull())
})

describe('the degree', () => {
  test('a straight rig gets a line', () => expect(done(runs({ noise: 30 })).degree).toBe(1))
  test('a bent one gets a curve, and the reason is told', () => {
    const found = done(runs({ noise: 30, bend: 0.5 }))
    expect(found.degree).toBe(2)
    expect(found.degreeWhy).toContain('beyond noise')
  })
  test('noise alone seldom gets a curve: at most 3 of 100', () => {
    const curves = Array.from({ length: 100 }, (_, seed) => done(runs({ noise: 30, seed })).degree).filter(
      d => d === 2,
    )
    expect(curves.length).toBeLessThanOrEqual(3)
  })
  test('what was asked for is done, also a third degree', () => {
    expect(done(runs({ noise: 30 }), { degree: 3 }).coefficients).toHaveLength(4)
  })
  test('through zero', () => {
    const net = runs({ noise: 30 }).map(p => ({ ...p, reading: p.reading - 1000 }))
    const found = done(net, { throughZero: true })
    expect(found.coefficients[0]).toBe(0)
    expect(found.coefficients[1]).toBeCloseTo(1 / 2000, 6)
  })
})

describe('weights', () => {
  const doubtful = (share: number) => {
    const points = runs({ noise: 40 })
    const movesN = Float64Array.from(points, p => (p.appliedN === 100 ? 100 * share : 0.001))
    const outcome = calibrate(
      {
        name: 'p.csv',
        points: points.map(p => (p.appliedN === 100 ? { ...p, reading: p.reading + 400 } : p)),
        doubts: [{ source: 'reference brick', movesN, shape: 'rectangular' }],
        gravity: UNKNOWN_GRAVITY,
        readingUnit: 'counts',
      },
      { degree: 1 },
    )
    if (!outcome.ok) throw new Error('no fit')
    return outcome.value
  }
  test('a load of much doubt pulls the line less', () => {
    const [sure, unsure] = [doubtful(0.00002), doubtful(0.01)]
    expect(sure.weighted).toBe(false)
    expect(unsure.weighted).toBe(true)
    // The true slope is 1/2000; the doubtful load reads 0.2 % high.
    const off = (of: typeof sure) => Math.abs(of.coefficients[1]! * 2000 - 1)
    expect(off(unsure)).toBeLessThan(off(sure) / 2)
  })
  test('its doubt shows in the budget at its own load', () => {
    const at = (forceN: number) =>
      doubtful(0.01)
        .uncertainty.find(u => u.atN === forceN)!
        .parts.find(p => p.source === 'reference brick')!.standardN
    expect(at(100)).toBeGreaterThan(at(20))
  })
})

describe('bad input', () => {
  const first = (points: readonly Point[]) => {
    const outcome = run(points)
    if (outcome.ok) throw new Error('should not fit')
    return outcome.problems.map(p => p.what).join(' ')
  }
  test('too few points', () => expect(first(runs().slice(0, 2))).toContain('too few'))
  test('one mass only', () => expect(first(runs().filter(p => p.appliedN === 20))).toContain('shows no line'))
  test('one mass and the empty hook', () =>
    expect(first(runs().filter(p => p.appliedN <= 20))).toContain('shows no line'))
  test('readings that do not move', () =>
    expect(first(runs().map(p => ({ ...p, reading: 5 })))).toContain('do not move'))
  test('a load below zero', () =>
    expect(first(runs().map(p => ({ ...p, appliedN: p.appliedN - 10 })))).toContain('below zero'))
  test('no points at all', () => expect(first([])).toContain('too few'))
  test('swapped columns are suspected', () => {
    const swapped = runs({ noise: 30 }).map(p => ({ ...p, appliedN: p.reading, reading: p.appliedN }))
    expect(codes(swapped)).toContain('columns-swapped')
    expect(codes(runs({ noise: 30 }))).not.toContain('columns-swapped')
  })
  test('loads that do not reach the range used', () => {
    expect(codes(runs(), { usedToN: 150 })).toContain('range-not-covered')
    expect(codes(runs(), { usedToN: 100 })).not.toContain('range-not-covered')
  })
  test('readings that fall as the load grows', () =>
    expect(codes(runs().map(p => ({ ...p, reading: -p.reading })))).toContain('reading-falls'))
  test('units that do not fit one another', () =>
    expect(
      codes(
        runs().map(p => ({ ...p, reading: p.appliedN })),
        {},
        'kgf',
      ),
    ).toContain('scale-far-off'))
  test('a line that is not there cannot be left out', () => {
    expect(run(runs(), { leaveOut: [99] }).ok).toBe(false)
  })
})

describe('a point far off', () => {
  const points = runs({ noise: 30 }).map(p => (p.line === 11 ? { ...p, reading: p.reading + 4000 } : p))
  test('is named and kept', () => {
    const found = done(points)
    expect(found.points.filter(p => p.suspect).map(p => p.line)).toEqual([11])
    expect(found.points.every(p => p.used)).toBe(true)
    expect(found.warnings.find(w => w.code === 'point-suspect')?.text).toContain('line 11')
  })
  test('is left out when told, and stays in the document', () => {
    const found = done(points, { leaveOut: [11] })
    expect(found.points.find(p => p.line === 11)).toMatchObject({ used: false, suspect: false })
    expect(found.residualSd!).toBeLessThan(0.03)
  })
  test('none is named in sound points, or one time in a hundred', () => {
    const named = Array.from({ length: 100 }, (_, seed) => codes(runs({ noise: 30, seed }))).filter(c =>
      c.includes('point-suspect'),
    )
    expect(named.length).toBeLessThanOrEqual(4)
  })
})

describe('properties', () => {
  const seeds = fc.integer({ min: 0, max: 10_000 })
  const options = { seed: 4, numRuns: 60 }
  test('a perfect line gives zero residuals', () => {
    const found = done(runs())
    for (const point of found.points) expect(Math.abs(point.residualN)).toBeLessThan(1e-11)
    expect(found.warnings.map(w => w.code)).not.toContain('point-suspect')
  })
  test('the order of points does not matter', () =>
    fc.assert(
      fc.property(seeds, seed => {
        const points = runs({ noise: 40, seed })
        const a = done(points)
        const b = done([...points].reverse())
        expect(b.class).toBe(a.class)
        expect(b.degree).toBe(a.degree)
        b.coefficients.forEach((c, i) => {
          expect(Math.abs(c - a.coefficients[i]!)).toBeLessThan(1e-9 * Math.abs(c))
        })
      }),
      options,
    ))
  test('scaling the units of the force scales every force and no percentage', () =>
    fc.assert(
      fc.property(seeds, fc.constantFrom(0.001, 0.5, 9.80665, 1000), (seed, factor) => {
        const points = runs({ noise: 40, seed })
        const a = done(points)
        const b = done(points.map(p => ({ ...p, appliedN: p.appliedN * factor })))
        expect(b.class).toBe(a.class)
        expect(b.errors.indicationPct!).toBeCloseTo(a.errors.indicationPct!, 6)
        expect(b.residualSd! / a.residualSd! / factor).toBeCloseTo(1, 6)
        a.uncertainty.forEach((u, i) => {
          expect(b.uncertainty[i]!.expandedN / u.expandedN / factor).toBeCloseTo(1, 6)
        })
      }),
      options,
    ))
  test('shifting and scaling the readings changes no force', () =>
    fc.assert(
      fc.property(seeds, fc.integer({ min: -50_000, max: 50_000 }), (seed, shift) => {
        const points = runs({ noise: 40, seed })
        const a = done(points, { degree: 1 })
        const b = done(
          points.map(p => ({ ...p, reading: 4 * p.reading + shift })),
          { degree: 1 },
        )
        a.points.forEach((p, i) => {
          expect(b.points[i]!.residualN).toBeCloseTo(p.residualN, 8)
        })
      }),
      options,
    ))
})

test('lack of fit of a load cell (NIST Pontius; handbook 4.6.1: line rejected, F = 214.7, curve accepted, F = 0.81)', async () => {
  const { readFile } = await import('node:fs/promises')
  const file = await readFile(new URL('./data/nist-linear.json', import.meta.url), 'utf8')
  const { x, y } = JSON.parse(file).sets.find((s: { name: string }) => s.name === 'Pontius')
  // There the deflection is fitted on the load, so the load takes the place of the reading.
  const points: Point[] = x.map((load: number, i: number) => ({
    line: 0,
    appliedN: load,
    reading: y[i],
    direction: 'up',
    cycle: i < 20 ? 1 : 2,
  }))
  const chance = (degree: number) => lackOfFit(points, 20, fitPolynomial(x, y, { degree })!)!
  // SciPy 1.17.1: f.sf of the recomputed F with 18 and 20, and 17 and 20 degrees of freedom.
  expect(chance(1) / 5.503_717_381_78e-19).toBeCloseTo(1, 3)
  expect(chance(2)).toBeCloseTo(0.666_172_944_808, 6)
})

test('NIST Pontius, a load cell: the second degree is taken, as the handbook does (4.6.1, from memory)', async () => {
  const { readFile } = await import('node:fs/promises')
  const file = await readFile(new URL('./data/nist-linear.json', import.meta.url), 'utf8')
  const { x, y } = JSON.parse(file).sets.find((s: { name: string }) => s.name === 'Pontius')
  const points: Point[] = x.map((load: number, i: number) => ({
    line: 0,
    appliedN: load,
    reading: y[i],
    direction: 'up',
    cycle: i < 20 ? 1 : 2,
  }))
  const found = done(points)
  expect(found.degree).toBe(2)
  // The handbook reads 1,705,106 from a deflection of 1.239722, between 1,704,513 and 1,705,698.
  const at = (c: readonly number[], r: number) => c.reduceRight((sum, k) => sum * r + k, 0)
  expect(Math.abs(at(found.coefficients, 1.239722) - 1_705_106)).toBeLessThan(40)
  const near = found.uncertainty.find(u => Math.abs(u.atN - 1_650_000) < 1)!
  expect(Math.abs(near.expandedN - (1_705_698 - 1_704_513) / 2)).toBeLessThan(20)
})

test('Monte Carlo agrees with the budget', () => {
  const { monteCarlo } = done(runs({ noise: 50 }), { monteCarloTrials: 100_000 })
  expect(monteCarlo!.expandedN / monteCarlo!.byBudgetN).toBeCloseTo(1, 1)
})

import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { numericFactor } from '../../../../src/core/statistics/compare/factor.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

const group = (name: string, ...values: number[]) => ({
  name,
  specimens: values.map((v, i) => plainSpecimen(`${name} ${i}`, name, v)),
})

describe('widths of 10, 20 and 30 mm', () => {
  const widths = [
    group('10 mm', 4.1, 5.2, 4.6),
    group('20 mm', 8.8, 9.9, 9.1),
    group('30mm', 13.2, 14.5, 13.9),
  ]
  const found = numericFactor(widths)!
  test('SciPy 1.17.1: linregress of the nine values on their widths', () => {
    expect(found.slope).toBeCloseTo(0.46166666666666667, 10)
    expect(found.p / 1.5712881439250087e-7).toBeCloseTo(1, 6)
    expect(found.ci95[1] - found.slope).toBeCloseTo(0.05288159921101572, 8)
  })
  test('the means keep to the line', () => {
    expect(found).toMatchObject({ unit: 'mm', df: 7 })
    expect(found.lackOfFit!.p).toBeGreaterThan(0.5)
    expect(found.line.map(l => l.at)).toEqual([10, 20, 30])
  })
  test('in the comparison, with its sentence', () => {
    const { factor, verdict } = compareGroups(
      widths.flatMap(w => w.specimens),
      { quantity: 'peakForce', unit: 'N' },
    )
    expect(factor!.slope).toBeCloseTo(found.slope, 12)
    expect(verdict).toMatch(
      /; over the number in the names it changes by 0\.462 N for each mm \(95 % interval 0\.409 to 0\.515 N\)\.$/,
    )
  })
})

test('means that leave the line make its slope as doubtful as they leave it', () => {
  const bent = [group('1', 1, 1.1), group('2', 9, 9.1), group('3', 1, 1.1), group('4', 9, 9.1)]
  const found = numericFactor(bent)!
  expect(found.lackOfFit!.p).toBeLessThan(0.001)
  expect(found.df).toBe(2)
  expect(found.p).toBeGreaterThan(0.3)
})

test('names that are no numbers, two numbers, or units that differ: no trend', () => {
  expect(numericFactor([group('paste', 1, 2), group('20', 1, 2), group('30', 1, 2)])).toBeNull()
  expect(numericFactor([group('10', 1, 2), group('20', 1, 2)])).toBeNull()
  expect(numericFactor([group('10 mm', 1, 2), group('20 g', 1, 2), group('30 mm', 1, 2)])).toBeNull()
})

test('a level that changes nothing is called a trend 5 times in 100', () => {
  const random = seededRandom(6)
  let seen = 0
  for (let study = 0; study < 1500; study++) {
    const levels = [1, 2, 3, 4].map(at =>
      group(String(at), ...Array.from({ length: 4 }, () => random.normal())),
    )
    if (numericFactor(levels)!.p < 0.05) seen++
  }
  expect(seen / 1500).toBeGreaterThan(0.033)
  expect(seen / 1500).toBeLessThan(0.067)
})

describe('glue masses of 10 to 40 mg, where more brings ever less', () => {
  const masses = [
    group('10 mg', 4.1, 5.2, 4.6),
    group('20 mg', 8.8, 9.9, 9.1),
    group('30 mg', 11.2, 12.5, 11.9),
    group('40 mg', 12.6, 13.4, 12.9),
  ]
  const { bend, curve } = numericFactor(masses)!
  test('it bends: NumPy lstsq, SciPy 1.17.1 t', () => {
    expect(bend!.t).toBeCloseTo(-5.841799369236457, 9)
    expect(bend!.p / 2.462639141519e-4).toBeCloseTo(1, 8)
  })
  test('the parabola with its band by Working and Hotelling: NumPy, SciPy f.ppf', () => {
    expect(curve!.degree).toBe(2)
    const [first, middle, last] = [curve!.points[0]!, curve!.points[16]!, curve!.points[32]!]
    expect([first.at, middle.at, last.at]).toEqual([10, 25, 40])
    for (const [point, value, low, high] of [
      [first, 4.66, 3.656615536157, 5.663384463844],
      [middle, 10.7875, 9.963537377956, 11.611462622044],
      [last, 12.94, 11.936615536157, 13.943384463843],
    ] as const) {
      expect(point.value).toBeCloseTo(value, 9)
      expect(point.low).toBeCloseTo(low, 8)
      expect(point.high).toBeCloseTo(high, 8)
    }
  })
  test('and the verdict says so', () => {
    const { verdict } = compareGroups(
      masses.flatMap(m => m.specimens),
      { quantity: 'peakForce', unit: 'N' },
    )
    expect(verdict).toMatch(/does not change evenly over the number in the names but bends \(p = 0\.0002\)/)
  })
  test('a straight row has a straight curve', () =>
    expect(numericFactor(masses.slice(0, 2).concat(group('30 mg', 13.2, 14.5, 13.9)))!.curve!.degree).toBe(1))
})

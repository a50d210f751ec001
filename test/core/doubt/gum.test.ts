import { describe, expect, test } from 'vitest'
import { fitPolynomial } from '../../../src/core/calibration/polynomial.ts'
import { coverageFactor, effectiveDf, expand } from '../../../src/core/doubt/expanded.ts'
import {
  expandedInput,
  normalInput,
  rectangularInput,
  triangularInput,
} from '../../../src/core/doubt/input.ts'
import { monteCarlo } from '../../../src/core/doubt/monteCarlo.ts'
import { propagate, resultCovariance } from '../../../src/core/doubt/propagate.ts'
import { sampledCorrelation, sampledInput } from '../../../src/core/doubt/sampled.ts'

// Worked examples of JCGM 100:2008 (GUM), annexes G and H. Inputs and printed results from memory; every printed result
// was recomputed with NumPy and SciPy.

describe('H.1, an end gauge: a budget with effective degrees of freedom', () => {
  const alphaS = 11.5e-6
  const inputs = [
    normalInput({ name: 'l_S', value: 50_000_623, df: 18 }, 25),
    normalInput({ name: 'd', value: 215, df: 25.6 }, 9.7),
    normalInput({ name: 'δα', value: 0, df: 50 }, 0.58e-6),
    normalInput({ name: 'θ', value: -0.1 }, 0.41),
    normalInput({ name: 'δθ', value: 0, df: 2 }, 0.029),
    normalInput({ name: 'α_S', value: alphaS }, 1.2e-6),
  ]
  const length = ([lS = 0, d = 0, dAlpha = 0, theta = 0, dTheta = 0, alpha = 0]: readonly number[]) =>
    lS + d - lS * (dAlpha * theta + alpha * dTheta)
  const found = propagate(length, inputs)

  test('50.000 838 mm, u_c = 32 nm', () => {
    expect(found.value).toBeCloseTo(50_000_838, 0)
    expect(Math.round(found.standard)).toBe(32)
  })
  test('each part as printed: 25, 9.7, 2.9, 0, 16.6, 0 nm', () => {
    const parts = found.lines.map(line => line.contribution)
    ;[25, 9.7, 2.9, 0, 16.6, 0].forEach((printed, i) => {
      expect(Math.abs(parts[i]! - printed)).toBeLessThan(0.11)
    })
  })
  test('16 effective degrees of freedom, t_99 = 2.92, U_99 = 93 nm', () => {
    const df = Math.floor(found.df!) // the example truncates
    expect(df).toBe(16)
    expect(coverageFactor(df, 0.99)).toBeCloseTo(2.92, 2)
    expect(Math.round(coverageFactor(df, 0.99) * found.standard)).toBe(93)
  })
  test('degrees of freedom of d itself: 25.4 from the rounded parts (25.6 printed)', () => {
    const parts = [
      { standard: 5.8, df: 24 },
      { standard: 3.9, df: 5 },
      { standard: 6.7, df: 8 },
    ]
    expect(effectiveDf(parts)).toBeCloseTo(25.447_250_777_4, 8) // SciPy on the same rounded parts
    expect(expand(parts).standard).toBeCloseTo(9.681_941_953_97, 8)
  })
  test('Monte Carlo sees the second-order terms that the law leaves out: 34 nm', () => {
    // The printed 34 nm uses known standard uncertainties, so the draws do too.
    const known = inputs.map(input => ({ ...input, df: Infinity }))
    expect(Math.round(monteCarlo(length, known, { trials: 200_000, seed: 3 }).standard)).toBe(34)
  })
})

describe('H.2, resistance and reactance: correlated inputs and results', () => {
  const volts = [5.007, 4.994, 5.005, 4.99, 4.999]
  const amperes = [19.663, 19.639, 19.64, 19.685, 19.678].map(mA => mA / 1000)
  const phases = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433]
  const inputs = [sampledInput('V', volts), sampledInput('I', amperes), sampledInput('φ', phases)]
  const correlations = [
    { i: 0, j: 1, r: sampledCorrelation(volts, amperes) },
    { i: 0, j: 2, r: sampledCorrelation(volts, phases) },
    { i: 1, j: 2, r: sampledCorrelation(amperes, phases) },
  ]
  const of = (f: (v: number, i: number, phi: number) => number) =>
    propagate(([v = 0, i = 0, phi = 0]) => f(v, i, phi), inputs, correlations)
  const R = of((v, i, phi) => (v / i) * Math.cos(phi))
  const X = of((v, i, phi) => (v / i) * Math.sin(phi))
  const Z = of((v, i) => v / i)
  const r = (a: typeof R, b: typeof R) => resultCovariance(a, b, correlations) / (a.standard * b.standard)

  test('correlations −0.36, 0.86, −0.65', () => {
    expect(correlations.map(c => Number(c.r.toFixed(2)))).toEqual([-0.36, 0.86, -0.65])
  })
  test('R = 127.732, X = 219.847, Z = 254.260', () => {
    expect(R.value).toBeCloseTo(127.732_169_928, 6)
    expect(X.value).toBeCloseTo(219.846_511_913, 6)
    expect(Z.value).toBeCloseTo(254.259_701_948, 6)
  })
  test('u(R) = 0.071, u(X) = 0.2956 (0.295 printed, from rounded inputs), u(Z) = 0.236', () => {
    expect(R.standard).toBeCloseTo(0.071_071_407, 5)
    expect(X.standard).toBeCloseTo(0.295_581_677, 5)
    expect(Z.standard).toBeCloseTo(0.236_336_13, 5)
  })
  test('correlations of the results −0.588, −0.485, 0.993', () => {
    expect(r(R, X)).toBeCloseTo(-0.588, 3)
    expect(r(R, Z)).toBeCloseTo(-0.485, 3)
    expect(r(X, Z)).toBeCloseTo(0.993, 3)
  })
  test('no effective degrees of freedom are claimed for correlated inputs', () => expect(R.df).toBeNull())
  test('Monte Carlo with the same correlations agrees', () => {
    const known = inputs.map(input => ({ ...input, df: Infinity }))
    const drawn = monteCarlo(([v = 0, i = 0, phi = 0]) => (v / i) * Math.cos(phi), known, {
      correlations,
      seed: 5,
    })
    expect(drawn.standard / R.standard).toBeCloseTo(1, 2)
  })
})

test('H.3, a thermometer: line, its doubt, and a correction read from it', () => {
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511]
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16]
  const fit = fitPolynomial(
    t.map(at => at - 20),
    b,
    { degree: 1 },
  )!
  expect(fit.coefficients[0]).toBeCloseTo(-0.171_203_790_131, 11)
  expect(fit.coefficients[1]).toBeCloseTo(0.002_182_697_739_89, 12)
  expect(fit.standardErrors[0]).toBeCloseTo(0.002_877_597_835_16, 11)
  expect(fit.standardErrors[1]).toBeCloseTo(0.000_667_938_773_228, 12)
  expect(fit.residualSd).toBeCloseTo(0.003_497_563_963_51, 11)
  expect(fit.df).toBe(9)
  // b(30 °C) = −0.1494 °C with u = 0.0041 °C and 9 degrees of freedom, as printed.
  expect(fit.coefficients[0]! + fit.coefficients[1]! * 10).toBeCloseTo(-0.1494, 4)
  expect(fit.standardAt(10)).toBeCloseTo(0.004_138_595_752_85, 10)
})

// The same table is table B.1 of NIST Technical Note 1297, appendix B, which was read for it.
describe('table G.2, coverage factors as printed', () => {
  const rows: Record<string, readonly number[]> = {
    1: [1.84, 6.31, 12.71, 13.97, 63.66, 235.8],
    2: [1.32, 2.92, 4.3, 4.53, 9.92, 19.21],
    3: [1.2, 2.35, 3.18, 3.31, 5.84, 9.22],
    5: [1.11, 2.02, 2.57, 2.65, 4.03, 5.51],
    8: [1.07, 1.86, 2.31, 2.37, 3.36, 4.28],
    10: [1.05, 1.81, 2.23, 2.28, 3.17, 3.96],
    16: [1.03, 1.75, 2.12, 2.17, 2.92, 3.54],
    20: [1.03, 1.72, 2.09, 2.13, 2.85, 3.42],
    50: [1.01, 1.68, 2.01, 2.05, 2.68, 3.16],
    Infinity: [1, 1.645, 1.96, 2, 2.576, 3],
  }
  // One, two and three sigma stand for the exact normal shares.
  const shares = [0.682_689_492_137_086, 0.9, 0.95, 0.954_499_736_103_642, 0.99, 0.997_300_203_936_74]
  for (const [df, printed] of Object.entries(rows))
    test(`${df} degrees of freedom`, () => {
      printed.forEach((k, i) => {
        const places = String(k).split('.')[1]?.length ?? 2
        expect(Math.abs(coverageFactor(Number(df), shares[i]!) - k)).toBeLessThanOrEqual(
          0.505 * 10 ** -Math.max(places, k > 100 ? 1 : 2),
        )
      })
    })
})

describe('distributions of an input (GUM 4.3)', () => {
  const options = { name: 'x', value: 1 }
  test('limits: a/√3 flat, a/√6 peaked; a certificate: U/k', () => {
    expect(rectangularInput(options, 3).standard).toBeCloseTo(Math.sqrt(3), 14)
    expect(triangularInput(options, 6).standard).toBeCloseTo(Math.sqrt(6), 14)
    expect(expandedInput(options, 0.4, 2).standard).toBe(0.2)
  })
  test('a single reading has no scatter to tell', () => {
    expect(() => sampledInput('x', [1])).toThrow(RangeError)
  })
  for (const [name, input] of [
    ['rectangular', rectangularInput(options, 1)],
    ['triangular', triangularInput(options, 1)],
    ['normal', normalInput(options, 0.3)],
  ] as const)
    test(`draws of a ${name} input have its standard uncertainty`, () => {
      const drawn = monteCarlo(([x = 0]) => x, [input], { trials: 50_000, seed: 8 })
      expect(drawn.mean).toBeCloseTo(1, 2)
      expect(drawn.standard / input.standard).toBeCloseTo(1, 1)
    })
  test('the sum of two flat inputs reaches 1.90 standard uncertainties, not 1.96 (a triangle: exact)', () => {
    const flat = [rectangularInput({ name: 'a', value: 0 }, 1), rectangularInput({ name: 'b', value: 0 }, 1)]
    const { high } = monteCarlo(([a = 0, b = 0]) => a + b, flat, { trials: 200_000, seed: 2 })
    expect(high).toBeCloseTo(2 - Math.sqrt(0.05 * 4), 2) // P(|X| > x) = (2 − x)²/4
  })
  test('draws of a type A input spread as t: 2.57 at 5 degrees of freedom', () => {
    const { high } = monteCarlo(([x = 0]) => x, [normalInput({ name: 'x', value: 0, df: 5 }, 1)], {
      trials: 200_000,
      seed: 4,
    })
    expect(Math.abs(high - 2.5706)).toBeLessThan(0.04)
  })
  test('one seed, one result', () => {
    const inputs = [normalInput(options, 1)]
    const once = () => monteCarlo(([x = 0]) => x, inputs, { trials: 500, seed: 7 })
    expect(once()).toEqual(once())
  })
})

test('correlations that contradict one another are a mistake of the caller', () => {
  const three = ['a', 'b', 'c'].map(name => normalInput({ name, value: 0 }, 1))
  const correlations = [
    { i: 0, j: 1, r: 0.9 },
    { i: 0, j: 2, r: 0.9 },
    { i: 1, j: 2, r: -0.9 },
  ]
  expect(() => monteCarlo(([a = 0]) => a, three, { correlations })).toThrow(RangeError)
})

test('so many draws are made unless told', () => {
  expect(monteCarlo(([v = 0]) => v, [normalInput({ name: 'v', value: 1 }, 0.1)])).toMatchObject({
    trials: 100_000,
    seed: 1,
  })
})

test('readings that stand still hang together with nothing', () => {
  expect(sampledCorrelation([1, 2, 3], [5, 5, 5])).toBe(0)
  expect(sampledCorrelation([5, 5, 5], [1, 2, 3])).toBe(0)
  expect(sampledCorrelation([1, 2, 3], [2, 4, 6])).toBeCloseTo(1, 12)
})

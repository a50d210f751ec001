// Examples of the reference pages: the body of each test stands in docs/reference/core.md under the function that it is named after.
import { expect, test } from 'vitest'
import {
  andersonDarling,
  bcaInterval,
  buildPyramid,
  compareGroups,
  coverageFactor,
  detectableDifference,
  effectiveDf,
  expand,
  fitPolynomial,
  fitWeibull,
  fromNewton,
  gravityAt,
  grubbs,
  mean,
  meanInterval,
  median,
  monteCarlo,
  namePattern,
  normalGravity,
  normalInput,
  normalLowerBound,
  parseForceUnit,
  perGroupForDifference,
  plainSpecimen,
  powerOf,
  printable,
  problemText,
  propagate,
  readRecording,
  rectangularInput,
  sdInterval,
  seededRandom,
  shapiroWilk,
  showForce,
  shuffled,
  sliceForDisplay,
  standardDeviation,
  suspects,
  toNewton,
} from '../../src/core/index.ts'
import { readLog } from '../../src/logs/index.ts'

test('readRecording', () => {
  const rows = Array.from(
    { length: 200 },
    (_, i) => `${i / 20},${i < 40 || i > 150 ? 0.02 * (i % 3) : i - 40}`,
  )
  const log = readLog(new TextEncoder().encode(`time_s,force_N\n${rows.join('\n')}`), 'handle.csv')
  if (!log.ok) throw new Error(log.problems.map(problemText).join('\n'))
  const { results, pulls } = readRecording(log.value)
  expect(pulls).toHaveLength(1)
  expect(results.peakForce.status).toBe('measured')
  expect(results.peakForce.valueN).toBeCloseTo(110, 0)
})

test('compareGroups', () => {
  const paste = [45, 44, 51, 49, 47].map((value, i) => plainSpecimen(`paste ${i + 1}`, 'paste', value))
  const stitch = [91, 88, 111, 92, 108].map((value, i) => plainSpecimen(`stitch ${i + 1}`, 'stitch', value))
  const { pairs } = compareGroups([...paste, ...stitch], { quantity: 'peakForce', unit: 'N' })
  expect(pairs[0]?.verdict).toBe('different')
  expect(Math.abs(pairs[0]!.difference!)).toBeCloseTo(50.8, 9)
})

test('meanInterval', () => {
  const [low, high] = meanInterval([11.46, 8.66, 9.88])!
  expect([low, high].map(end => end.toFixed(3))).toEqual(['6.513', '13.487'])
  expect(meanInterval([10])).toBeNull()
})

test('sdInterval', () => {
  const [low, high] = sdInterval([1, 2, 4, 8, 9])!
  expect([low, high].map(end => end.toFixed(3))).toEqual(['2.135', '10.241'])
})

test('bcaInterval', () => {
  const values = [9.1, 9.4, 9.8, 10.2, 10.3, 10.9, 11.2, 12.5]
  const [low, high] = bcaInterval(values, { seed: 1, resamples: 2000 })!
  expect(low).toBeLessThan(mean(values))
  expect(high).toBeGreaterThan(mean(values))
})

test('normalLowerBound', () => {
  // What nine in ten of all specimens exceed, with 95 % confidence: far below the mean of five.
  const bound = normalLowerBound([91, 88, 111, 92, 108], 0.9)!
  expect(bound).toBeLessThan(70)
})

test('shapiroWilk', () => {
  expect(shapiroWilk([9.1, 9.4, 9.8, 10.2, 10.3, 10.9, 11.2])!.p).toBeGreaterThan(0.05)
  expect(shapiroWilk([1, 2])).toBeNull()
})

test('andersonDarling', () => {
  expect(andersonDarling([1, 1.1, 1.2, 1.3, 1.1, 1.2, 1.25, 9])!.p).toBeLessThan(0.01)
})

test('grubbs', () => {
  const far = grubbs([10, 10.2, 9.9, 10.1, 10, 9.8, 10.3, 15])
  expect(far?.value).toBe(15)
})

test('suspects', () => {
  expect(suspects([10, 10.2, 9.9, 10.1, 10, 9.8, 10.3, 15]).map(({ index }) => index)).toEqual([7])
})

test('fitWeibull', () => {
  // Two that did not break held at least 60.
  const fit = fitWeibull({
    values: [42, 48, 51, 55, 58, 60, 60],
    censored: [false, false, false, false, false, true, true],
  })!
  expect(fit.shape).toBeGreaterThan(1)
  expect(fit.censored).toBe(2)
})

test('mean', () => {
  expect(mean([1, 2, 6])).toBe(3)
})

test('median', () => {
  expect(median([1, 2, 6])).toBe(2)
})

test('standardDeviation', () => {
  expect(standardDeviation([10_000_001, 10_000_003, 10_000_002])).toBe(1)
})

test('powerOf', () => {
  // Five of each, two standard deviations apart: exact, by the non-central t.
  expect(powerOf(2, { nA: 5, nB: 5, sd: 1 })!.toFixed(2)).toBe('0.79')
})

test('detectableDifference', () => {
  const design = { nA: 5, nB: 5, sd: 1 }
  const difference = detectableDifference(design)!
  expect(powerOf(difference, design)).toBeCloseTo(0.8, 6)
})

test('perGroupForDifference', () => {
  const n = perGroupForDifference(2, { sd: 1 })!
  expect(powerOf(2, { nA: n, nB: n, sd: 1 })).toBeGreaterThanOrEqual(0.8)
  expect(powerOf(2, { nA: n - 1, nB: n - 1, sd: 1 })).toBeLessThan(0.8)
})

test('propagate', () => {
  // A force of a mass that hangs: 1 kg ± 1 g at 9.81 m/s².
  const mass = rectangularInput({ name: 'mass', value: 1 }, 0.001)
  const gravity = normalInput({ name: 'gravity', value: 9.81 }, 0.0005)
  const force = propagate(([m = 0, g = 0]) => m * g, [mass, gravity])
  expect(force.value).toBeCloseTo(9.81, 12)
  expect(force.standard).toBeCloseTo(Math.hypot((9.81 * 0.001) / Math.sqrt(3), 0.0005), 6)
})

test('monteCarlo', () => {
  const { low, high } = monteCarlo(([v = 0]) => v, [rectangularInput({ name: 'v', value: 0 }, 1)])
  expect(high - low).toBeCloseTo(1.9, 1)
})

test('effectiveDf', () => {
  // Welch and Satterthwaite: two equal parts of 4 degrees of freedom have 8 together.
  expect(
    effectiveDf([
      { standard: 1, df: 4 },
      { standard: 1, df: 4 },
    ]),
  ).toBeCloseTo(8, 9)
})

test('coverageFactor', () => {
  expect(coverageFactor(Number.POSITIVE_INFINITY).toFixed(2)).toBe('1.96')
  expect(coverageFactor(4).toFixed(2)).toBe('2.78')
})

test('expand', () => {
  const doubt = expand([
    { standard: 3, df: Number.POSITIVE_INFINITY },
    { standard: 4, df: Number.POSITIVE_INFINITY },
  ])
  expect(doubt.standard).toBe(5)
  expect(doubt.expanded.toFixed(1)).toBe('9.8')
})

test('fitPolynomial', () => {
  const line = fitPolynomial([0, 1, 2, 3], [1, 3, 5, 7], { degree: 1 })!
  expect(line.coefficients.map(c => Number(c.toFixed(9)))).toEqual([1, 2])
})

test('normalGravity', () => {
  // On the equator, at the height of the sea.
  expect(normalGravity(0, 0)).toBeCloseTo(9.780327, 5)
})

test('gravityAt', () => {
  const { ms2 } = gravityAt(45, 0)
  expect(ms2).toBeCloseTo(9.8062, 3)
})

test('toNewton', () => {
  expect(toNewton(1, 'kgf')).toBe(9.80665)
})

test('fromNewton', () => {
  expect(fromNewton(9.80665, 'kgf')).toBe(1)
})

test('parseForceUnit', () => {
  expect(parseForceUnit('kg')).toBe('kgf')
  expect(parseForceUnit('bananas')).toBeNull()
})

test('showForce', () => {
  // To the digits that its doubt allows.
  expect(showForce(68.2371, 1.4, 'N')).toContain('68.2')
})

test('namePattern', () => {
  const pattern = namePattern('{variant}-{n}{part}')
  if (!pattern.ok) throw new Error(pattern.problems.map(problemText).join('\n'))
  expect(pattern.value('paste-3b.csv')).toMatchObject({ variant: 'paste', n: '3', part: 'b' })
})

test('sliceForDisplay', () => {
  // Ten thousand samples on 200 pixels: the one high reading is among the points.
  const forceN = Float64Array.from({ length: 10_000 }, (_, i) => (i === 7_777 ? 50 : Math.sin(i / 100)))
  const timeS = forceN.map((_, i) => i / 100)
  const { value } = sliceForDisplay(buildPyramid(timeS, forceN), 0, 100, 200)
  expect(Math.max(...value)).toBe(50)
  expect(value.length).toBeLessThan(1_000)
})

test('seededRandom', () => {
  expect(seededRandom(7).uniform()).toBe(seededRandom(7).uniform())
})

test('shuffled', () => {
  const names = ['a', 'b', 'c', 'd']
  const order = shuffled(names, seededRandom(1))
  expect([...order].sort()).toEqual(names)
})

test('printable', () => {
  // A log may hold anything; a terminal obeys control characters.
  expect(printable('red\x1b[31m')).not.toContain('\x1b')
})

test('problemText', () => {
  expect(problemText({ where: 'a.csv, line 3', what: '“x” is not a number.', cure: 'Mend the cell.' })).toBe(
    'a.csv, line 3: “x” is not a number. Mend the cell.',
  )
})

import { describe, expect, test } from 'vitest'
import {
  borrowedDifference,
  relativeScatter,
  scatterPrior,
} from '../../../../src/core/statistics/compare/borrowed.ts'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { comparisonSchema } from '../../../../src/core/statistics/document.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

const LIKE = [
  { square: 0.0064, df: 4 },
  { square: 0.0081, df: 4 },
  { square: 0.0049, df: 5 },
  { square: 0.01, df: 3 },
  { square: 0.0067, df: 4 },
]
const A = [52, 55, 58]
const B = [60, 66, 63]

describe('the model on the same grid, by NumPy and SciPy 1.17.1 (stats.f.logpdf, stats.t.sf, optimize.brentq)', () => {
  const prior = scatterPrior(LIKE)!
  test('prior', () => {
    expect(prior.cv).toBeCloseTo(0.0846616173175, 10)
    expect(prior.worthDf).toBeCloseTo(20.5770298971, 8)
  })
  test('difference', () => {
    const found = borrowedDifference(A, B, prior)!
    expect(found.p).toBeCloseTo(0.04452273642, 7)
    expect(found.ci95[1] - found.difference).toBeCloseTo(7.770238727381, 5)
  })
})

test('fewer than three like groups are nothing to borrow from; values without scatter are no group', () => {
  expect(scatterPrior(LIKE.slice(0, 2))).toBeNull()
  expect(relativeScatter([3, 3, 3])).toBeNull()
  expect(relativeScatter([3])).toBeNull()
  expect(relativeScatter([-3, -4])).toBeNull()
})

test('pairs of two that scatter like the rest: 5 false alarms in 100 or so, and far more seen than alone', () => {
  const r = seededRandom(11)
  const values = (n: number, middle: number, cv: number) =>
    Float64Array.from({ length: n }, () => middle * (1 + cv * r.normal()))
  // Scatters of like groups: inverse χ² of 10 degrees of freedom about 8 %.
  const cvOf = () => {
    let sum = 0
    for (let i = 0; i < 10; i++) sum += r.normal() ** 2
    return 0.08 * Math.sqrt(10 / sum)
  }
  let [alarms, seen, alone] = [0, 0, 0]
  const STUDIES = 150
  for (let study = 0; study < STUDIES; study++) {
    const like = Array.from({ length: 6 }, () => relativeScatter(values(5, 50, cvOf()))!)
    const prior = scatterPrior(like)!
    const cv = cvOf()
    if (borrowedDifference(values(2, 50, cv), values(2, 50, cv), prior)!.p < 0.05) alarms++
    const [x, y] = [values(2, 50, cv), values(2, 66, cv)]
    if (borrowedDifference(x, y, prior)!.p < 0.05) seen++
    if (welch(x, y)!.p < 0.05) alone++
  }
  expect(alarms / STUDIES).toBeLessThan(0.11)
  expect(seen).toBeGreaterThan(1.5 * alone)
})

test('in a comparison it stands beside the plain answer, which stays as it is', () => {
  const specimens = [
    ...A.map((v, i) => plainSpecimen(`a${i}`, 'paste', v)),
    ...B.map((v, i) => plainSpecimen(`b${i}`, 'glue', v)),
  ]
  const plain = compareGroups(specimens, { quantity: 'peakForce', unit: 'N' })
  const found = compareGroups(specimens, { quantity: 'peakForce', unit: 'N', like: LIKE })
  expect(found.pairs).toEqual(plain.pairs)
  expect(found.verdict).toBe(plain.verdict)
  expect(found.borrowed!.prior.groups).toBe(5)
  expect(found.borrowed!.text).toMatch(/^With scatter borrowed from 5 like groups .* holds as far as/)
  expect(comparisonSchema.parse(found)).toEqual(found)
  const many = specimens.flatMap(s => [s, { ...s, name: `${s.name}x`, value: s.value! + 0.5 }])
  expect(compareGroups(many, { quantity: 'peakForce', unit: 'N', like: LIKE }).borrowed).toBeNull()
})

test('a pair that shows no scatter of its own is judged by what was borrowed alone, several together more carefully', () => {
  const prior = scatterPrior(LIKE)!
  const flat = borrowedDifference([50, 50], [60, 60], prior)!
  // Of every point of the prior the variance is its own: what the pair scatters by is no evidence, not even that it is small.
  const wanted = Math.exp(prior.points.reduce((sum, p) => sum + p.chance * Math.log(p.square), 0) / 2)
  expect(flat.cv).toBeCloseTo(wanted, 8)
  expect(flat.ci95[1] - flat.difference).toBeCloseTo(flat.difference - flat.ci95[0], 9)
  const ofThree = borrowedDifference([50, 50], [60, 60], prior, 3)!
  expect(ofThree.p).toBeCloseTo(3 * flat.p, 12)
  expect(ofThree.ci95[1]).toBeGreaterThan(flat.ci95[1])
  expect(borrowedDifference([50], [60, 60], prior)).toBeNull()
  expect(borrowedDifference([50, 50], [-60, -61], prior)).toBeNull()
})

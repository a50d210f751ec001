import { describe, expect, test } from 'vitest'
import { byMode } from '../../../../src/core/statistics/compare/modes.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { censoredMean } from '../../../../src/core/statistics/group/censoredMean.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

const none = (n: number) => Array<boolean>(n).fill(false)

test('without bounds it is the ordinary mean with its standard error', () => {
  // 10, 12, 14, 16: mean 13, sd √(20/3), standard error sd/2.
  const found = censoredMean(Float64Array.of(10, 12, 14, 16), none(4))!
  expect(found.mean).toBeCloseTo(13, 9)
  expect(found.sd).toBeCloseTo(Math.sqrt(20 / 3), 9)
  expect(found.standardError).toBeCloseTo(Math.sqrt(20 / 3) / 2, 9)
  expect(found.df).toBe(3)
})

test('with bounds: SciPy 1.17.1, minimize(Nelder-Mead) of stats.norm.logpdf and logsf; error from its Hessian by differences', () => {
  const values = Float64Array.of(92.1, 85.4, 97.3, 101.2, 88.8, 95, 79.6, 90)
  const atLeast = [false, false, true, false, true, false, false, true]
  const found = censoredMean(values, atLeast)!
  expect(found.mean).toBeCloseTo(93.966963, 4)
  expect(found.sd * Math.sqrt(4 / 5)).toBeCloseTo(8.131764, 4)
  expect(found.standardError * Math.sqrt(4 / 5)).toBeCloseTo(3.26323, 3)
})

test('too few broken, or none that scatter: nothing is told', () => {
  expect(censoredMean(Float64Array.of(1, 2, 3), [true, false, false])).toBeNull()
  expect(censoredMean(Float64Array.of(2, 2, 2), none(3))).toBeNull()
})

describe('ways of failing compete', () => {
  test('the mean against each is that of its own strength, not of those alone that failed so', () => {
    const random = seededRandom(4)
    const specimens: Specimen[] = Array.from({ length: 400 }, (_, i) => {
      const [peel, tear] = [92.8 + 10 * random.normal(), 90 + 10 * random.normal()]
      return {
        ...plainSpecimen(`p${i}`, 'paste', Math.min(peel, tear)),
        mode: peel < tear ? 'peel' : 'tear',
      }
    })
    const peeled = specimens.filter(s => s.mode === 'peel')
    const plain = peeled.reduce((sum, s) => sum + s.value! / peeled.length, 0)
    expect(plain).toBeLessThan(88)
    const { mean, ci95 } = byMode(specimens).find(m => m.mode === 'peel')!
    expect(Math.abs(mean! - 92.8)).toBeLessThan(1.5)
    expect(ci95![0] < 92.8 && ci95![1] > 92.8).toBe(true)
  })
  test('where all failed in one way it is the plain mean', () => {
    const alike = [10, 11, 12.5].map((v, i) => ({ ...plainSpecimen(`s${i}`, 's', v), mode: 'peel' }))
    expect(byMode(alike)[0]!.mean).toBeCloseTo(33.5 / 3, 12)
  })
})

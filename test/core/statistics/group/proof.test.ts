import { expect, test } from 'vitest'
import { proofRecord, specimensForProof } from '../../../../src/core/statistics/group/proof.ts'

test('28 of 29: SciPy 1.17.1, binomtest(28, 29).proportion_ci(0.95, "exact") and beta.ppf(0.05, 28, 2)', () => {
  const { ci95, atLeast } = proofRecord(28, 29)
  expect(ci95[0]).toBeCloseTo(0.8223557045115856, 9)
  expect(ci95[1]).toBeCloseTo(0.9991273531164029, 9)
  expect(atLeast).toBeCloseTo(0.8466079754738173, 9)
})
test('none that let go is no proof that none will: 10 of 10 show 74 in 100, by 0.05^(1/10)', () => {
  expect(proofRecord(10, 10).atLeast).toBeCloseTo(0.05 ** 0.1, 9)
  expect(proofRecord(10, 10).ci95[1]).toBe(1)
  expect(proofRecord(0, 5)).toMatchObject({ atLeast: 0, ci95: [0, expect.any(Number)] })
})
test('how many for 9 in 10: 29, 46, 61, 76 with 0 to 3 that let go (29 and 46 as in tables of distribution-free limits; all by SciPy)', () => {
  expect([0, 1, 2, 3].map(letGo => specimensForProof(0.9, letGo))).toEqual([29, 46, 61, 76])
})

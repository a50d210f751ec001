import { expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen } from '../../../../src/core/statistics/compare/specimen.ts'

const group = (name: string, middle: number) =>
  [-2, -1, 0, 1, 2].map((off, i) => plainSpecimen(`${name} ${i + 1}`, name, middle + off))
const notShown = (...middles: number[]) =>
  compareGroups(
    middles.flatMap((middle, i) => group('abcde'[i]!, middle)),
    { quantity: 'peakForce', unit: 'N' },
  ).notShown

test('of a difference that is seen, the near end of the interval is what was shown', () => {
  expect(notShown(100, 50)).toMatch(
    /^Not shown: that a holds more than b by the full 50\.0 N, only by 4\d\.\d N or more\.$/,
  )
})

test('each of up to three differences that are seen has its words, more are left out', () => {
  expect(notShown(150, 100, 50)?.split('; ')).toHaveLength(3)
  expect(notShown(200, 150, 100, 50)).toBeNull()
})

test('that there is no difference is not shown where one could have been missed', () => {
  expect(notShown(100, 100.5)).toMatch(/^Not shown: that there is no difference between a and b \(/)
})

test('where all groups together differ and no pair does, that is said, and only then', () => {
  const said = (...middles: number[]) => {
    const { verdict, pairs, overall } = compareGroups(
      middles.flatMap((middle, i) =>
        [-1.2, -0.6, 0, 0.6, 1.2].map((off, k) => plainSpecimen(`${i} ${k}`, 'abcd'[i]!, middle + off)),
      ),
      { quantity: 'peakForce', unit: 'N' },
    )
    const isAnySeen = pairs.some(pair => pair.verdict === 'different')
    return [isAnySeen, overall!.welch!.p < 0.05, verdict.startsWith('The groups are not all alike (p = 0.0')]
  }
  expect(said(50, 50, 51.8, 51.8)).toEqual([false, true, true])
  expect(said(50, 50, 51.2, 51.2)).toEqual([false, false, false])
  expect(said(50, 50, 55, 55)).toEqual([true, true, false])
})

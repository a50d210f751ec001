import { describe, expect, test } from 'vitest'
import { adviceSoFar } from '../../../../src/core/statistics/plan/advice.ts'

const pulls = (...rows: [string, number][]) => rows.map(([variant, value]) => ({ variant, value }))

describe('adviceSoFar', () => {
  test('one of each is too few, and says how many are missing', () => {
    const [pair] = adviceSoFar(pulls(['a', 10], ['b', 12]), { perGroup: 5 })
    expect(pair).toMatchObject({ state: 'too-few', moreA: 1, moreB: 1, p: null })
  })
  test('a difference far beyond the scatter is settled before the plan is through', () => {
    const rows = pulls(
      ['a', 10],
      ['b', 50],
      ['a', 10.2],
      ['b', 50.3],
      ['a', 9.9],
      ['b', 49.8],
      ['a', 10.1],
      ['b', 50.1],
    )
    expect(adviceSoFar(rows, { perGroup: 6 })[0]).toMatchObject({
      state: 'seen',
      moreA: 0,
      moreB: 0,
      text: 'b beats a: settled, no more of these two are needed',
    })
  })
  test('an early p of 0.03 does not count: the limit there is far smaller', () => {
    const rows = pulls(['a', 10], ['b', 13], ['a', 11], ['b', 14.5], ['a', 10.4], ['b', 12.2])
    const [pair] = adviceSoFar(rows, { perGroup: 8 })
    expect(pair!.p!).toBeLessThan(0.05)
    expect(pair!.limit!).toBeLessThan(pair!.p!)
    expect(pair!.state).toBe('go-on')
    expect(pair!.text).toMatch(/^\d more of [ab]/)
  })
  test('no trend: the plan will hardly part them; all pulled: done', () => {
    const same = pulls(['a', 10], ['b', 11], ['a', 12], ['b', 10.5], ['a', 11], ['b', 11.9])
    expect(adviceSoFar(same, { perGroup: 6 })[0]!.state).toBe('hardly')
    expect(adviceSoFar(same, { perGroup: 3 })[0]!.state).toBe('done')
  })
  test('three variants share the chance of a false alarm', () => {
    const rows = pulls(['a', 10], ['b', 11], ['c', 12], ['a', 12], ['b', 10.5], ['c', 9])
    const three = adviceSoFar(rows, { perGroup: 4 })
    const two = adviceSoFar(
      rows.filter(r => r.variant !== 'c'),
      { perGroup: 4 },
    )
    expect(three).toHaveLength(3)
    expect(three[0]!.limit!).toBeLessThan(two[0]!.limit!)
  })
})

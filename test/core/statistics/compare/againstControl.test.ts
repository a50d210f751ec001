import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { welch } from '../../../../src/core/statistics/compare/welch.ts'
import { manyToOneCritical } from '../../../../src/core/statistics/distributions/manyToOne.ts'
import { comparisonSchema } from '../../../../src/core/statistics/document.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

const compare = (specimens: readonly Specimen[], options = {}) =>
  compareGroups(specimens, { quantity: 'peakForce', unit: 'N', ...options })

const study = (seed: number, shifts: readonly number[], n = 5): Specimen[] => {
  const random = seededRandom(seed)
  return shifts.flatMap((shift, g) =>
    Array.from({ length: n }, (_, i) => ({
      ...plainSpecimen(`v${g} ${i}`, g === 0 ? 'paste' : `v${g}`, 20 + shift + random.normal()),
      block: `day ${i}`,
    })),
  )
}

test('only pairs with the control are judged, and the document says so', () => {
  const found = compare(study(1, [0, 4, 4, 0]), { against: 'paste' })
  expect(found.pairs.map(p => [p.a, p.b])).toEqual([
    ['paste', 'v1'],
    ['paste', 'v2'],
    ['paste', 'v3'],
  ])
  expect(found.family).toEqual({ count: 3, level: 0.05, look: null, against: 'paste' })
  expect(comparisonSchema.parse(found)).toEqual(found)
  expect(found.pairs.map(p => p.seen)).toEqual([true, true, false])
  expect(found.verdict).toMatch(/not decided between paste and v3/)
  expect(found.answer!.headline).toBe('More than paste: v1 and v2.')
  expect(found.inStatistics).toMatch(/3 comparisons with paste together by Dunnett's many-to-one t/)
})

test('half-widths are those of the many-to-one t with the scatters found', () => {
  const specimens = study(2, [0, 1, 2])
  const [x, ...others] = ['paste', 'v1', 'v2'].map(name =>
    Float64Array.from(specimens.filter(s => s.group === name).map(s => s.value!)),
  )
  const variance = (v: Float64Array): number => {
    const m = v.reduce((a, b) => a + b) / v.length
    return v.reduce((sum, one) => sum + (one - m) ** 2, 0) / (v.length - 1)
  }
  const loadings = others.map(y => Math.sqrt(variance(x!) / (variance(x!) + variance(y))))
  const { pairs } = compare(specimens, { against: 'paste' })
  for (const [i, y] of others.entries()) {
    const { standardError, df } = welch(x!, y)!
    const half = manyToOneCritical(0.05, loadings, df) * standardError
    expect((pairs[i]!.ci95![1] - pairs[i]!.ci95![0]) / 2).toBeCloseTo(half, 9)
  }
})

describe('an interval leaves 0 out exactly where the pair is called different', () => {
  test.each([null, 'day'])('blocks: %s', blocksBy => {
    for (let seed = 0; seed < 12; seed++) {
      const specimens = study(seed, [0, 1, 1.5, -1.2])
      for (const { ci95, seen, pAdjusted } of compare(specimens, { against: 'paste', blocksBy }).pairs) {
        expect(ci95![0] > 0 || ci95![1] < 0).toBe(seen)
        expect(pAdjusted! < 0.05).toBe(seen)
      }
    }
  })
})

test('in full blocks two comparisons with the control share half: the interval is Dunnett’s', () => {
  const { pairs } = compare(study(3, [0, 1, 2]), { against: 'paste', blocksBy: 'day' })
  const critical = manyToOneCritical(0.05, [Math.SQRT1_2, Math.SQRT1_2], 8)
  for (const { blocked, ci95 } of pairs)
    expect((ci95![1] - ci95![0]) / 2).toBeCloseTo((critical * blocked!.difference) / blocked!.t, 9)
})

test('it sees more than judging all pairs does', () => {
  const specimens = study(4, [0, 1, 1.5, -1.2])
  const all = compare(specimens).pairs.filter(p => p.a === 'paste')
  for (const [i, { detectable, pAdjusted }] of compare(specimens, { against: 'paste' }).pairs.entries()) {
    expect(detectable!).toBeLessThan(all[i]!.detectable!)
    expect(pAdjusted!).toBeLessThan(all[i]!.pAdjusted!)
  }
})

test('with nothing seen the answer says no more than that', () => {
  const found = compare(study(5, [0, 0, 0]), { against: 'paste' })
  expect(found.answer!.headline).toBe('None is shown to differ from paste.')
})

import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { seededRandom } from '../../../../src/core/statistics/random.ts'

interface Case {
  readonly n: number
  readonly isCalibrated: boolean
  readonly hasBlocks: boolean
  readonly isCensored: boolean
  readonly worthShare: number | null
  readonly apart: number
}

/** Two variants with a scatter of 1, so far apart. */
function made({ n, isCalibrated, hasBlocks, isCensored, worthShare, apart }: Case) {
  const random = seededRandom(n * 100 + apart)
  const specimens = ['paste', 'stitch'].flatMap((group, g) =>
    Array.from({ length: n }, (_, i): Specimen => {
      const value = 50 + g * apart + random.normal()
      return {
        ...plainSpecimen(`${group} ${i + 1}`, group, value),
        status: isCensored && i === 1 ? 'at-least' : 'measured',
        block: hasBlocks ? `day ${i % 3}` : null,
        parts: isCalibrated ? [{ source: 'calibration', standard: 0.01 * value, shared: 'rig' }] : [],
      }
    }),
  )
  return compareGroups(specimens, {
    quantity: 'peakForce',
    unit: 'N',
    worthShare,
    blocksBy: hasBlocks ? 'day' : null,
  })
}

const BOTH = [false, true]
const cases: Case[] = [1, 2, 3, 5, 30].flatMap(n =>
  BOTH.flatMap(isCalibrated =>
    BOTH.flatMap(hasBlocks =>
      BOTH.flatMap(isCensored =>
        [null, 0.05].flatMap(worthShare =>
          [0, 8].map(apart => ({ n, isCalibrated, hasBlocks, isCensored, worthShare, apart })),
        ),
      ),
    ),
  ),
)

describe('no sentence claims more than the figures beside it', () => {
  test.each([1, 2, 3, 5, 30])(
    '%i of each: calibrated or not, with blocks, bounds and a margin or without',
    n => {
      for (const one of cases.filter(c => c.n === n)) {
        const { verdict, pairs, groups } = made(one)
        const [pair] = pairs
        const told = JSON.stringify(one)
        const claims = /stitch holds more than paste|paste holds more than stitch/.test(verdict)
        expect(claims, told).toBe(pair!.verdict === 'different')
        expect(/as good as/.test(verdict), told).toBe(pair!.verdict === 'equivalent')
        expect(verdict, told).not.toMatch(/no difference|NaN|undefined|null|Infinity/i)
        expect(/^Not decided/.test(verdict), told).toBe(
          pair!.verdict === 'undecided' && pair!.decidedBy !== null,
        )
        if (pair!.ci95 !== null) expect(pair!.ci95[0] > 0 || pair!.ci95[1] < 0, told).toBe(pair!.seen)
        if (one.worthShare === null) expect(pair!.equivalence, told).toBeNull()
        if (n === 1) expect(pair!.decidedBy, told).toBe(one.isCensored ? pair!.decidedBy : null)
        for (const group of groups) {
          if (n === 1) expect([group.sd, group.ci95], told).toEqual([null, null])
          if (one.isCalibrated && group.ci95 !== null)
            expect(group.ci95[1] - group.ci95[0], told).toBeGreaterThan(
              group.ci95OfScatter![1] - group.ci95OfScatter![0],
            )
        }
      }
    },
  )
  test('thirty of each that lie 8 of 50 N apart are told, and thirty alike are as good within 5 %', () => {
    const plain = { n: 30, isCalibrated: true, hasBlocks: false, isCensored: false, worthShare: 0.05 }
    expect(made({ ...plain, apart: 8 }).pairs[0]!.verdict).toBe('different')
    expect(made({ ...plain, apart: 0 }).pairs[0]!.verdict).toBe('equivalent')
  })
})

describe('against a control no sentence says more either', () => {
  const three = (n: number, apart: number, seed: number) => {
    const random = seededRandom(seed)
    return ['paste', 'glue', 'stitch'].flatMap((group, g) =>
      Array.from(
        { length: n },
        (_, i): Specimen => ({
          ...plainSpecimen(`${group} ${i}`, group, 50 + g * apart + random.normal()),
          block: `day ${i % 3}`,
        }),
      ),
    )
  }
  test.each([1, 2, 3, 5, 30])('%i of each', n => {
    for (const blocksBy of [null, 'day'])
      for (const worthShare of [null, 0.05])
        for (const apart of [0, 1, 6]) {
          const found = compareGroups(three(n, apart, n + apart), {
            quantity: 'peakForce',
            unit: 'N',
            against: 'paste',
            blocksBy,
            worthShare,
          })
          const { verdict, answer, pairs } = found
          const told = JSON.stringify({ n, blocksBy, worthShare, apart })
          expect(verdict, told).not.toMatch(/no difference|NaN|undefined|null|Infinity/i)
          // Glue and stitch were never compared with each other.
          expect(verdict, told).not.toMatch(/glue holds more than stitch|stitch holds more than glue/)
          const more = pairs.filter(p => p.verdict === 'different' && p.difference! < 0)
          expect(/^More than/.test(answer!.headline), told).toBe(more.length > 0)
          for (const { b } of more) expect(answer!.headline, told).toContain(b)
          for (const { ci95, seen, pAdjusted } of pairs)
            if (ci95 !== null) {
              expect(ci95[0] > 0 || ci95[1] < 0, told).toBe(seen)
              expect(pAdjusted! < 0.05, told).toBe(seen)
            }
        }
  })
})

describe('one way of failing, a covariate within days, scatter borrowed, a load to hold: no sentence says more', () => {
  const given = (n: number, apart: number) => {
    const random = seededRandom(7 * n + apart)
    return ['paste', 'stitch'].flatMap((group, g) =>
      Array.from({ length: n }, (_, i): Specimen => {
        const x = 10 + random.normal()
        return {
          ...plainSpecimen(`${group} ${i + 1}`, group, 50 + g * apart + 2 * (x - 10) + random.normal()),
          mode: i % 3 === 2 ? 'tear' : 'peel',
          block: `day ${i % 3}`,
          covariate: x,
        }
      }),
    )
  }
  const like = [1, 2, 3, 4].map(i => ({ square: 0.0004 * i, df: 4 }))
  test.each([1, 2, 3, 5, 30])('%i of each', n => {
    for (const apart of [0, 8])
      for (const options of [
        { mode: 'peel' },
        { mode: 'tear' },
        { covariate: 'width' },
        { covariate: 'width', blocksBy: 'day' },
        { like, proofLoad: 52 },
      ]) {
        const found = compareGroups(given(n, apart), { quantity: 'peakForce', unit: 'N', ...options })
        const { verdict, pairs, answer, warnings, borrowed, proof } = found
        const told = JSON.stringify({ n, apart, options: Object.keys(options) })
        const all = [
          verdict,
          answer!.headline,
          answer!.next.text,
          ...answer!.doubts.map(({ text }) => text),
          ...warnings.map(({ text }) => text),
          borrowed?.text ?? '',
          ...(proof?.groups ?? []).map(({ text }) => text),
        ].join(' ')
        expect(all, told).not.toMatch(/no difference|NaN|undefined|null|Infinity/i)
        const [pair] = pairs
        const claims = /stitch holds more than paste|paste holds more than stitch/.test(verdict)
        expect(claims, told).toBe(pair!.verdict === 'different')
        if (pair!.ci95 !== null) expect(pair!.ci95[0] > 0 || pair!.ci95[1] < 0, told).toBe(pair!.seen)
        if ('mode' in options) expect(verdict, told).toMatch(/^Against failing by “/)
        // Borrowed scatter is for two to four of each, and never decides.
        if (borrowed) expect(n, told).toBeLessThan(5)
        for (const { held, of, atLeast, ci95 } of proof?.groups ?? []) {
          expect(atLeast!, told).toBeLessThanOrEqual(held / of)
          expect(ci95![0], told).toBeLessThanOrEqual(held / of)
        }
      }
  })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { addWays } from '../../../src/core/reading/elementWays.ts'

/** Up to three more elements may go unseen between two drops, but not the last. */
const MOST_UNSEEN = 3

interface Way {
  readonly weight: number
  /** Elements that went at each drop; `null`: it was a slip. */
  readonly counts: readonly (number | null)[]
}

interface Record {
  readonly total: number
  readonly broken: boolean
  readonly unseen: number
  readonly slipping: number
  readonly slips: readonly number[]
  /** Likelihood of each drop that m of n elements went, at n × (total + 1) + m. */
  readonly tables: readonly Float64Array[]
}

/** Every way through the drops, one by one, with its weight. */
function allWays({ total, broken, unseen, slipping, slips, tables }: Record): Way[] {
  let ways: (Way & { left: number })[] = [{ weight: 1, counts: [], left: total }]
  tables.forEach((table, k) => {
    ways = ways.flatMap(({ weight, counts, left }) => {
      const next: typeof ways = []
      for (let u = 0; u <= MOST_UNSEEN && (u === 0 || left - u >= 1); u++) {
        const n = left - u
        const here = weight * unseen ** u
        if (n < 1) continue
        next.push({ weight: here * slipping * slips[k]!, counts: [...counts, null], left: n })
        for (let m = 1; m <= n; m++)
          next.push({
            weight: here * (1 - slipping) * table[n * (total + 1) + m]!,
            counts: [...counts, m],
            left: n - m,
          })
      }
      return next
    })
  })
  return ways.filter(({ left }) => !broken || left === 0)
}

const likelihood = fc.double({ min: 0.01, max: 4, noNaN: true })

const records: fc.Arbitrary<Record> = fc
  .record({ total: fc.integer({ min: 1, max: 5 }), drops: fc.integer({ min: 1, max: 4 }) })
  .chain(({ total, drops }) =>
    fc.record({
      total: fc.constant(total),
      broken: fc.boolean(),
      unseen: fc.double({ min: 0, max: 0.3, noNaN: true }),
      slipping: fc.double({ min: 0.001, max: 0.9, noNaN: true }),
      slips: fc.array(likelihood, { minLength: drops, maxLength: drops }),
      tables: fc.array(
        fc
          .array(likelihood, { minLength: (total + 1) ** 2, maxLength: (total + 1) ** 2 })
          .map(of => Float64Array.from(of)),
        { minLength: drops, maxLength: drops },
      ),
    }),
  )

const added = (record: Record, weight: number) => {
  const sums = record.tables.map(() => ({ slip: 0, counts: new Float64Array(record.total + 1) }))
  const evidence = addWays(sums, record.tables, record.slips, record, weight)
  return { sums, evidence }
}

const sumOf = (values: Iterable<number>): number => [...values].reduce((a, b) => a + b, 0)

describe('the ways through the drops of a record', () => {
  test('weigh, forward and backward, what counting each of them gives', () => {
    fc.assert(
      fc.property(records, record => {
        const { sums } = added(record, 1)
        const ways = allWays(record)
        sums.forEach(({ slip, counts }, k) => {
          const of = (count: number | null): number =>
            sumOf(ways.filter(way => way.counts[k] === count).map(way => way.weight))
          const all = Math.max(1e-12, sumOf(ways.map(way => way.weight)))
          expect(Math.abs(slip - of(null)) / all).toBeLessThan(1e-9)
          for (let m = 1; m <= record.total; m++)
            expect(Math.abs(counts[m]! - of(m)) / all).toBeLessThan(1e-9)
        })
      }),
      { seed: 17, numRuns: 60 },
    )
  })

  test('sum up, at every drop, to the evidence of the record', () => {
    fc.assert(
      fc.property(records, fc.double({ min: 1e-6, max: 1e6, noNaN: true }), (record, weight) => {
        const { sums, evidence } = added(record, weight)
        expect(evidence).toBeGreaterThanOrEqual(0)
        for (const { slip, counts } of sums)
          expect(Math.abs(slip + sumOf(counts) - evidence)).toBeLessThanOrEqual(1e-9 * evidence)
      }),
      { seed: 17, numRuns: 200 },
    )
  })
})

import fc from 'fast-check'
import { expect, test } from 'vitest'
import { zeroPriors } from '../../../../src/core/reading/priors.ts'
import { ChainCosts, type ZeroChainInput } from '../../../../src/core/reading/zero/chainCosts.ts'
import { zeroChain } from '../../../../src/core/reading/zero/zeroChain.ts'

/** A zero period of 40 s with quiet stretches of these levels, ten samples a second. */
function period(levels: readonly number[], firstN = 0): ZeroChainInput {
  const each = 40 / (levels.length + 1)
  const quiets = levels.map((levelN, k) => {
    const fromS = k * each + 0.5
    const toS = fromS + 2 + (k % 3)
    return {
      ...{ from: Math.round(fromS * 10), to: Math.round(toS * 10), fromS, toS, levelN },
      ...{ slopeNPerS: 0, slopeStandardN: 0.01, noiseN: 0.02 },
    }
  })
  const blocks = levels.map((_, k) => ({ atS: (k + 1) * each - 1, levelN: 50 + 10 * k, lastsS: 0.15 }))
  return {
    ...{ quiets, blocks, startS: 0, endS: 40, first: 0, last: 400, firstN },
    ...{ rangeN: 100, greatestN: 90, noiseN: 0.02, quantumN: 0.01, paceNPerS: 1, priors: zeroPriors },
  }
}

/** Every choice of rests with the logarithm of its probability, up to a constant: counted one by one. */
function allChoices(input: ZeroChainInput): { rests: number[]; log: number }[] {
  const costs = new ChainCosts(input)
  const n = input.quiets.length
  return Array.from({ length: 2 ** n }, (_, bits) => {
    const rests = Array.from({ length: n }, (_v, k) => k).filter(k => (bits >> k) & 1)
    const [first] = rests
    if (first === undefined) return { rests, log: costs.none() }
    let log = costs.first(first) + costs.last(rests.at(-1)!)
    for (let i = 1; i < rests.length; i++) log += costs.between(rests[i - 1]!, rests[i]!)
    return { rests, log }
  })
}

const levels = fc.array(fc.double({ min: -20, max: 60, noNaN: true }), { minLength: 1, maxLength: 6 })

test('forward and backward come to what counting every choice comes to', () => {
  fc.assert(
    fc.property(levels, fc.double({ min: 0, max: 40, noNaN: true }), (of, peakS) => {
      const input = period(of)
      const choices = allChoices(input)
      const most = Math.max(...choices.map(c => c.log))
      const total = choices.reduce((sum, c) => sum + Math.exp(c.log - most), 0)
      const chain = zeroChain(input, peakS)
      expect(chain.beliefs.reduce((sum, b) => sum + b.weight, 0)).toBeCloseTo(1, 12)
      for (const { before, after, weight } of chain.beliefs) {
        const same = choices.filter(({ rests }) => {
          const earlier = rests.filter(k => input.quiets[k]!.fromS <= peakS).at(-1) ?? null
          const later = rests.find(k => input.quiets[k]!.fromS > peakS) ?? null
          return earlier === before && later === after
        })
        const counted = same.reduce((sum, c) => sum + Math.exp(c.log - most), 0) / total
        expect(weight).toBeCloseTo(counted, 12)
      }
      expect(choices.find(c => c.rests.join() === chain.rests.join())!.log).toBeCloseTo(most, 9)
    }),
    { seed: 20, numRuns: 60 },
  )
})

test('an empty choice believes the indicator', () => {
  const { rests, beliefs } = zeroChain(period([]), 20)
  expect(rests).toEqual([])
  expect(beliefs).toEqual([{ levelN: 0, weight: 1, before: null, after: null }])
})

test('the level after a break is the zero where the record began at nought under load', () => {
  const { rests, beliefs } = zeroChain(period([40, 60, -12]), 15)
  expect(rests).toEqual([2])
  expect(beliefs[0]).toMatchObject({ levelN: -12, after: 2 })
})

test('a plateau high up in a record that began at nought is held, not a rest', () => {
  expect(zeroChain(period([70, 72]), 35).rests).toEqual([])
})

test('levels that agree on either side of a loading are rests, wherever they lie', () => {
  expect(zeroChain({ ...period([30, 30.1], 30), greatestN: 130 }, 20).rests).toEqual([0, 1])
})

test('forty stretches of one plateau weigh no more than one: a long, extreme record stays finite', () => {
  const input = period(Array.from({ length: 40 }, (_, k) => 88 + 0.01 * k))
  const { beliefs } = zeroChain({ ...input, blocks: input.blocks.map(b => ({ ...b, levelN: 5 })) }, 30)
  expect(beliefs.every(b => Number.isFinite(b.weight))).toBe(true)
  expect(beliefs[0]).toMatchObject({ before: null, after: null })
})

import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { compareGroups } from '../../../../src/core/statistics/compare/compareGroups.ts'
import { plainSpecimen, type Specimen } from '../../../../src/core/statistics/compare/specimen.ts'
import { comparisonSchema } from '../../../../src/core/statistics/document.ts'

const group = (name: string, ...values: number[]): Specimen[] =>
  values.map((value, i) => plainSpecimen(`${name} ${i + 1}`, name, value))
const paste = group('paste', 11.46, 8.66, 9.88)
const stitch = group('stitch', 14.1, 12.3, 13.9, 15.2)
const glue = group('glue', 10.2, 10.9, 12.8, 11.1, 9.7)
const compare = (specimens: readonly Specimen[], options = {}) =>
  compareGroups(specimens, { quantity: 'peakForce', unit: 'N', ...options })
const codes = (specimens: readonly Specimen[], options = {}) =>
  compare(specimens, options).warnings.map(w => w.code)

test('the document has the shape of its schema, every key of it', () => {
  const specimens = [...paste, ...stitch, ...glue].map((s, i) => ({
    ...s,
    block: i % 2 ? 'mon' : 'tue',
    order: i,
  }))
  const document = compare(specimens, { blocksBy: 'day', control: 'glue' })
  expect(comparisonSchema.parse(JSON.parse(JSON.stringify(document)))).toEqual(
    JSON.parse(JSON.stringify(document)),
  )
})

test('three repeats of 11.46, 8.66, 9.88: mean 10.00, 95 % interval 6.513 to 13.487 (common practice, no source)', () => {
  const { groups, verdict, pairs, overall } = compare(paste)
  expect(groups[0]!.mean).toBeCloseTo(10, 12)
  expect(groups[0]!.ci95![0]).toBeCloseTo(6.513, 3)
  expect(groups[0]!.ci95![1]).toBeCloseTo(13.487, 3)
  expect({ pairs, overall }).toEqual({ pairs: [], overall: null })
  expect(verdict).toBe(
    'paste holds 10.0 N on average; with 3 specimens that mean is only known to lie between 6.5 and 13.5 N; there is no other group to compare with.',
  )
})

describe('the verdict', () => {
  test('names the winner, the amount and its interval', () => {
    expect(compare([...paste, ...stitch]).verdict).toBe(
      "stitch holds more than paste: by 3.9 N on average (95 % interval 1.1 to 6.7 N), 39 % of paste's mean.",
    )
  })
  test('says what could have been seen where nothing was: 43 % with 3 each and this scatter', () => {
    // The same values twice: pooled scatter and mean of the check value; 4.311 of 10.00 by SciPy (see power.test.ts).
    const twin = group('other', 11.46, 8.66, 9.88)
    expect(compare([...paste, ...twin]).verdict).toBe(
      'Not decided between paste and other: with 3 each and this scatter only a difference over 43 % would have been seen 8 times in 10.',
    )
  })
  test('tiny groups: past a mean three times the other no share is told; the figure is in the data', () => {
    const { verdict, pairs } = compare([...group('wool', 4, 9), ...group('silk', 6, 12)])
    // Two means 1 and 3 lie 2 apart around 2: all of their middle, 7.75 here. What is seen 8 times in 10 is greater than
    // what is just seen: t(0.975, 2) s √(1/2 + 1/2) = 4.303 × 3.905 = 16.8, t from any table.
    expect(pairs[0]!.detectable!).toBeGreaterThan(16.8)
    expect(verdict).toBe(
      'Not decided between wool and silk: with 2 each and this scatter even a mean three times the other could easily have been missed, so this says next to nothing.',
    )
  })
  test('one of each: nothing can be said, whatever the values', () => {
    const one = compare([...group('x', 10), ...group('y', 99)])
    expect(one.verdict).toMatch(/^One x and one y differ by 89.0 N, but one specimen of a kind says nothing/)
    expect(one.needMore).toEqual({ perGroup: 2, inAll: 3, toSee: null, toSeePct: null })
    expect(one.pairs[0]).toMatchObject({ p: null, seen: false, decidedBy: null, chance: null })
  })
  test('one against several: inside or outside the range of the next', () => {
    // 13.875 ± t(0.975, 3) s √(1 + 1/4) = 9.6 to 18.1
    expect(compare([...group('x', 10), ...stitch]).verdict).toMatch(
      /lies inside the range .* \(9.6 to 18.1 N\)/,
    )
    expect(compare([...group('x', 25), ...stitch]).verdict).toMatch(/lies outside the range/)
    // 8 ± 12.706 × 4.243 × √1.5 reaches below nought, where no force was.
    expect(compare([...group('x', 25), ...group('y', 5, 11)]).verdict).toMatch(/would lie \(0 to 74 N\)/)
  })
  test('two of each that differ: seen, but not to be built on', () => {
    const two = compare([...group('x', 10, 10.1), ...group('y', 12, 12.2)])
    expect(two.verdict).toMatch(/two specimens barely show the scatter, so pull more before building on it/)
  })
  test('no scatter at all is no certainty', () => {
    expect(compare([...group('x', 10, 10), ...group('y', 12, 12)]).verdict).toMatch(/do not scatter at all/)
    expect(compare([...group('x', 10, 10), ...group('y', 10, 10)]).verdict).toMatch(
      /All values of x and y are alike/,
    )
  })
  test('nothing measured in a group', () => {
    const lost = paste.map(s => ({ ...s, value: null, status: 'not-recorded' as const }))
    expect(compare([...lost, ...stitch]).verdict).toMatch(/^Of paste nothing was measured/)
  })
  test('many groups are summed up, not listed pair by pair', () => {
    const many = Array.from({ length: 6 }, (_, g) =>
      group(`g${g}`, ...[1, 2, 3, 4].map(i => i * 0.1 + g * 5)),
    ).flat()
    const { verdict } = compare(many)
    expect(verdict).toMatch(/g5 holds more than g0, g1, g2, g3 and g4/)
    expect(verdict.length).toBeLessThan(600)
  })
  test('in the unit of the log with newton beside', () => {
    const { verdict } = compare([...paste, ...stitch], { shown: { unit: 'kgf', per: 9.80665 } })
    expect(verdict).toMatch(/by 0.40 kgf \(3.9 N\) on average/)
  })
  test('statistical words carry t, degrees of freedom, p and the rank test', () => {
    expect(compare([...paste, ...stitch]).inStatistics).toBe(
      'paste − stitch: Welch t(4.0) = −3.85, p = 0.018, g = −2.54 (−5.32 to −0.62), Mann–Whitney U = 0, p = 0.057 (exact).',
    )
  })
})

test('with several pairs p is adjusted over all of them, and the needed numbers after Bonferroni', () => {
  const { pairs, needMore, family } = compare([...paste, ...stitch, ...glue])
  expect(family).toEqual({ count: 3, level: 0.05, look: null, against: null })
  for (const pair of pairs) {
    expect(pair.pAdjusted!).toBeGreaterThan(pair.p!)
    expect(pair.pAdjusted!).toBeLessThan(3 * pair.p!)
  }
  expect(needMore!.perGroup).toBe(needMore!.inAll - 3)
})

describe('specimens that only held at least so much', () => {
  const bounded = [...paste, ...stitch.map((s, i) => (i === 1 ? { ...s, status: 'at-least' as const } : s))]
  const { groups, pairs, overall, warnings } = compare(bounded)
  test('never count as if they had broken: the mean is estimated with them as bounds', () => {
    expect(groups[1]).toMatchObject({ n: 4, censored: 1, mean: null, ci95: null })
    expect(groups[1]!.meanAtLeast).toBeCloseTo(13.875, 12)
    expect(groups[1]!.estimatedMean!.mean).toBeGreaterThan(13.875)
    expect(overall).toMatchObject({ anova: null, welch: null })
  })
  test('enter the comparison: a difference with its interval', () => {
    expect(pairs[0]!.decidedBy).toBe('censored')
    expect(pairs[0]!.difference).toBeCloseTo(10 - groups[1]!.estimatedMean!.mean, 12)
    expect(pairs[0]!.ci95![1]).toBeGreaterThan(pairs[0]!.difference!)
    expect(pairs[0]!.mannWhitney).toMatchObject({ u: 0 })
  })
  test('leave it to ranks where fewer than three of a group broke', () => {
    const few = [
      ...paste,
      ...stitch.map((s, i) => (i === 0 || i === 3 ? { ...s, status: 'at-least' as const } : s)),
    ]
    const pair = compare(few).pairs[0]!
    expect(pair).toMatchObject({ decidedBy: 'ranks', difference: null, ci95: null })
    expect(pair.pAdjusted).toBeCloseTo(pair.mannWhitney!.p, 12)
  })
  test('are told, with their names', () => {
    expect(warnings.find(w => w.code === 'at-least')!.text).toMatch(
      /stitch 2 \(12.3 N\) held at least so much/,
    )
  })
})

describe('specimens out of the figures', () => {
  test('not recorded: listed, never 0', () => {
    const lost = { ...plainSpecimen('stitch 9', 'stitch', 0), value: null, status: 'not-recorded' as const }
    const { groups, warnings } = compare([...paste, ...stitch, lost])
    expect(groups[1]).toMatchObject({ n: 4, notRecorded: ['stitch 9'] })
    expect(warnings.map(w => w.code)).toContain('not-recorded')
  })
  test('dropped: shown with the reason, and not counted', () => {
    const document = compare([
      ...paste,
      ...stitch.map((s, i) => (i === 3 ? { ...s, dropped: 'slipped' } : s)),
    ])
    expect(document.groups[1]).toMatchObject({
      n: 3,
      dropped: [{ specimen: 'stitch 4', value: 15.2, why: 'slipped' }],
    })
    expect(document.specimens.find(s => s.name === 'stitch 4')!.dropped).toBe('slipped')
    expect(document.warnings.find(w => w.code === 'dropped')!.text).toMatch(
      /stitch 4 \(15.2 N\) was dropped: slipped/,
    )
  })
  test('an outlier is named and counts all the same', () => {
    const document = compare([...group('q', 10.1, 10.2, 9.9, 10, 10.05, 15), ...glue])
    expect(document.groups[0]!.n).toBe(6)
    expect(document.specimens.find(s => s.name === 'q 6')!.suspect).not.toBeNull()
    expect(document.specimens.filter(s => s.suspect !== null)).toHaveLength(1)
    expect(document.warnings.map(w => w.code)).toContain('outlier-suspect')
  })
})

describe('doubt of the values', () => {
  const doubted = (own: number, shared: number) =>
    [...paste, ...stitch].map(s => ({
      ...s,
      low: s.value! - 1,
      high: s.value! + 1,
      parts: [
        { source: 'noise', standard: own, shared: 'none' as const },
        { source: 'zero of the rig', standard: shared, shared: 'rig' as const },
      ],
    }))
  test('small beside the scatter: nothing is said', () => {
    expect(codes(doubted(0.01, 0.01))).not.toContain('doubt-not-small')
  })
  test('not small beside the scatter: said, with the share that it makes', () => {
    const { warnings, groups } = compare(doubted(0.7, 0))
    expect(warnings.find(w => w.code === 'doubt-not-small')!.text).toMatch(/paste: .* 25 % of its variance/)
    expect(groups[0]!.doubt!.ownStandard).toBeCloseTo(0.7, 12)
  })
  test('an offset shared by the rig widens each mean and cancels in the difference', () => {
    const { groups, pairs } = compare(doubted(0, 2))
    const plain = compare([...paste, ...stitch])
    expect(groups[0]!.sharedStandard).toBeCloseTo(2, 12)
    // 10 ± √((4.303 × 1.404 / √3)² + (1.96 × 2)²), t(0.975, 2) from any table.
    expect(groups[0]!.ci95![0]).toBeCloseTo(10 - Math.hypot(3.487, 3.92), 2)
    expect(groups[0]!.ci95).toEqual(groups[0]!.ci95WithDoubt)
    expect(groups[0]!.ci95OfScatter).toEqual(plain.groups[0]!.ci95)
    // The bound: (mean − 1.2816 sd) less √((how far Student's bound lies below that)² + (1.645 × 2)²).
    const { mean, sd, lowerBounds } = groups[0]!
    const tenth = mean! - 1.281_552 * sd!
    expect(lowerBounds.p90c95!).toBeCloseTo(tenth - Math.hypot(tenth - lowerBounds.normal.p90c95!, 3.2897), 3)
    expect(lowerBounds.normal.p90c95).toBe(plain.groups[0]!.lowerBounds.p90c95)
    expect(pairs[0]!.withDoubt).toBeNull()
    expect(pairs[0]!.pAdjusted).toBe(plain.pairs[0]!.pAdjusted)
  })
})

describe('blocks, order and modes', () => {
  test('groups that share no day cannot be told from their days', () => {
    const apart = [...paste.map(s => ({ ...s, block: 'mon' })), ...stitch.map(s => ({ ...s, block: 'tue' }))]
    const document = compare(apart, { blocksBy: 'day' })
    expect(document.verdict).toMatch(/^The groups share no day/)
    expect(document.pairs[0]).toMatchObject({ pAdjusted: null, seen: false })
    expect(document.needMore).toBeNull()
  })
  const days = ['mon', 'tue', 'wed', 'thu']
  const onDays = (lifts: Record<string, readonly number[]>) =>
    Object.entries(lifts).flatMap(([name, own]) =>
      own.flatMap((lift, day) =>
        group(name, 10 + lift, 10.3 + lift, 9.8 + lift).map((s, i) => ({
          ...s,
          name: `${name} ${day} ${i}`,
          block: days[day]!,
        })),
      ),
    )
  test('a day that runs high is taken out', () => {
    const lifted = onDays({ a: [0, 40, 3, -20], b: [5, 46, 8.5, -15.2] })
    expect(compare(lifted).pairs[0]!.seen).toBe(false)
    const blocked = compare(lifted, { blocksBy: 'day' })
    expect(blocked.pairs[0]).toMatchObject({ decidedBy: 'blocks', seen: true })
    // Day by day b holds 5, 6, 5.5 and 4.8 more: mean 5.325, sd 0.538, a paired t on 3 degrees of freedom.
    expect(blocked.pairs[0]!.t).toBeCloseTo(-5.325 / (0.537_742 / 2), 3)
    expect(blocked.pairs[0]!.df).toBe(3)
    expect(blocked.warnings.map(w => w.code)).toContain('blocks-differ')
  })
  test('variants that react each in its own way to a day are judged against that, and more days are asked for', () => {
    const reacting = onDays({ a: [0, 0, 0, 0], b: [4, -1, 3, 0] })
    const { pairs, blocks, warnings, needMore } = compare(reacting, { blocksBy: 'day' })
    // 4, −1, 3, 0: mean 1.5, sd 2.38, t = 1.26. Against the scatter within a day alone it would be seen.
    expect(pairs[0]!.t).toBeCloseTo(-1.5 / (2.380_476 / 2), 4)
    expect(pairs[0]!.seen).toBe(false)
    expect(blocks!.interaction).toMatchObject({ df1: 3, df2: 16, judgedAgainst: true })
    expect(blocks!.interaction!.p).toBeLessThan(0.001)
    expect(warnings.find(w => w.code === 'blocks-interact')!.text).toMatch(/do not react alike/)
    expect(needMore!.blocks!).toBeGreaterThan(3)
  })
  test('few days cannot exclude that they react; many without a sign of it can', () => {
    const even = [0, 40, 3, -20]
    expect(
      compare(onDays({ a: even, b: even }), { blocksBy: 'day' }).blocks!.interaction!.judgedAgainst,
    ).toBe(true)
    const three = onDays({ a: even, b: even, c: even })
    expect(compare(three, { blocksBy: 'day' }).blocks!.interaction).toMatchObject({
      df1: 6,
      judgedAgainst: false,
    })
  })
  test('a drift with the order of pulling is told', () => {
    const drifting = [...group('a', 1, 2.1, 3, 4.1), ...group('b', 1.5, 2.4, 3.6, 4.4)].map((s, i) => ({
      ...s,
      order: (i % 4) * 2 + (i < 4 ? 0 : 1),
    }))
    const { trend, warnings } = compare(drifting)
    expect(trend!.slope).toBeCloseTo(0.5, 1)
    expect(warnings.map(w => w.code)).toContain('order-trend')
  })
  test('mixed failure modes are shown by mode and warned of', () => {
    const modes = [
      ...paste.map((s, i) => ({ ...s, mode: i === 0 ? 'tear' : 'peel' })),
      ...stitch.map(s => ({ ...s, mode: 'thread' })),
    ]
    const document = compare(modes)
    // Two that peeled among three are too few to say how strong it is against peeling.
    expect(document.modes).toContainEqual({ group: 'paste', mode: 'peel', n: 2, mean: null, ci95: null })
    expect(document.modes.find(m => m.group === 'stitch')!.mean).toBeCloseTo(13.875, 9)
    expect(document.warnings.map(w => w.code)).toEqual(
      expect.arrayContaining(['mixed-modes', 'modes-differ']),
    )
  })
})

test('the order of specimens and a common shift change no p; a scale scales the difference', () => {
  const values = fc.array(fc.integer({ min: 50, max: 150 }), { minLength: 3, maxLength: 6 })
  fc.assert(
    fc.property(values, values, fc.integer({ min: 0, max: 400 }), (x, y, shift) => {
      const one = compare([...group('a', ...x), ...group('b', ...y)]).pairs[0]!
      const moved = (v: number) => (v + shift) * 4
      const other = compare([
        ...group('a', ...x.toReversed().map(moved)),
        ...group('b', ...y.toReversed().map(moved)),
      ]).pairs[0]!
      expect(other.pAdjusted === null).toBe(one.pAdjusted === null)
      if (one.pAdjusted !== null) expect(other.pAdjusted!).toBeCloseTo(one.pAdjusted, 9)
      expect(other.difference!).toBeCloseTo(4 * one.difference!, 8)
      expect(other.mannWhitney!.p).toBeCloseTo(one.mannWhitney!.p, 12)
    }),
    { seed: 51, numRuns: 15 },
  )
})

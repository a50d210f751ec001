import { describe, expect, test } from 'vitest'
import { countElements } from '../../../src/core/reading/countElements.ts'
import { type Explained, explainDrops } from '../../../src/core/reading/elements.ts'
import type { Drop } from '../../../src/core/reading/measureDrop.ts'
import { ELEMENT_PRIORS, elementPriors } from '../../../src/core/reading/priors.ts'

/** Share of the force that was lost, and the slope after over the slope before; a share of 1 leaves nothing. */
type Fell = readonly [share: number, slope: number]

const slopeLine = (slopeNPerS: number, n: number) => ({
  ...{ atS: 0, levelN: 0, slopeNPerS, n, spreadS2: 0.03 * n, residualN2: 0 },
})

function dropOf([share, slope]: Fell, k: number, lineSamples = 12): Drop {
  return {
    ...{ pull: 0, from: 10 * k, to: 10 * k + 1, atS: k, beforeN: 60, lowN: 60, highN: 60 },
    ...{ afterN: 60 * (1 - share), share, shareStandard: 0.003, readingN: 0.05, cut: false },
    ...{ before: slopeLine(20, lineSamples), after: slopeLine(20 * slope, lineSamples) },
    ...{ leavesNothing: share === 1, clearness: 10, ratio: 10, amongTeeth: false, stops: false },
  }
}

const explain = (fell: readonly Fell[], elements: number | null, periodS: number): Explained[] =>
  explainDrops(
    fell.map((of, k) => dropOf(of, k)),
    { elements, labels: [], periodS, hiddenN: null },
  )

/** `slip`, or how many elements went and between which counts. */
const told = (fell: readonly Fell[], elements: number | null, periodS: number): string =>
  explain(fell, elements, periodS)
    .map(({ kind, elements: of }) =>
      kind === 'slip' ? kind : of ? `${of.estimate} (${of.low}–${of.high})` : kind,
    )
    .join(', ')

/** Drops that go another way with a prior so many times as great; elements, and the period in s. */
const DECIDES: readonly (readonly [
  prior: keyof typeof ELEMENT_PRIORS,
  times: number,
  drops: readonly Fell[],
  elements: number | null,
  periodS: number,
  now: string,
  then: string,
])[] = [
  ['slipping', 0.25, [[0.4, 1]], 2, 0.2, 'slip', '1 (1–1)'],
  ['slipping', 3, [[0.17, 1]], 6, 0.2, '1 (1–2)', 'slip'],
  ['slipWhereSlipping', 0.25, [[0.4, 1]], 2, 0.2, 'slip', '1 (1–1)'],
  ['slipWhereSlipping', 2, [[0.17, 1]], 6, 0.2, '1 (1–2)', 'slip'],
  [
    'slipElsewhere',
    0.25,
    [
      [0.24, 1.03],
      [1, 0],
    ],
    3,
    0.05,
    'slip, 2 (2–3)',
    '1 (1–1), 2 (2–3)',
  ],
  ['slipElsewhere', 3, [[0.32, 0.92]], 3, 0.05, '1 (1–1)', 'slip'],
  ['together', 0.25, [[0.26, 0.91]], 7, 0.2, '2 (2–3)', 'slip'],
  ['together', 2, [[0.17, 1]], 6, 0.2, '1 (1–2)', 'slip'],
  ['dropSpread', 0.25, [[0.15, 0.85]], 7, 0.2, '1 (1–2)', '1 (1–3)'],
  ['dropSpread', 3, [[0.35, 0.85]], 6, 0.05, 'slip', '2 (2–3)'],
  ['tangentSpread', 0.25, [[0.33, 0.9]], null, 0.2, 'slip', 'partial-break'],
  ['tangentSpread', 3, [[0.4, 1]], 2, 0.2, 'slip', '1 (1–1)'],
  ['tangentSpoilt', 0.25, [[0.17, 1]], 6, 0.2, '1 (1–2)', 'slip'],
  ['tangentSpoilt', 3, [[0.4, 1]], 2, 0.2, 'slip', '1 (1–1)'],
  ['unseenLeast', 0.25, [[0.41, 0.64]], 3, 0.01, '2 (1–2)', '2 (2–2)'],
  [
    'unseenLeast',
    3,
    [
      [0.05, 1],
      [1, 0],
    ],
    3,
    0.01,
    'slip, 3 (3–3)',
    'slip, 3 (2–3)',
  ],
  ['unseenRate', 0.25, [[0.17, 0.88]], 7, 0.05, '2 (1–3)', '2 (2–3)'],
  [
    'unseenRate',
    3,
    [
      [0.05, 1],
      [1, 0],
    ],
    3,
    0.01,
    'slip, 3 (3–3)',
    'slip, 3 (2–3)',
  ],
  ['unseenMost', 0.25, [[0.41, 0.59]], 6, 0.2, '3 (2–4)', '3 (3–4)'],
  ['unseenMost', 3, [[0.19, 0.84]], 7, 0.2, '2 (2–3)', '2 (1–3)'],
]

describe('each prior of the elements decides what went', () => {
  test.each(DECIDES)('%s, %f times', (prior, times, drops, elements, periodS, now, then) => {
    expect(told(drops, elements, periodS)).toBe(now)
    const values = elementPriors as Record<string, number>
    const before = values[prior]!
    try {
      values[prior] = before * times
      expect(told(drops, elements, periodS)).toBe(then)
    } finally {
      values[prior] = before
    }
  })

  test('and none is left out', () => {
    const named = new Set<string>(DECIDES.map(([prior]) => prior))
    expect(Object.keys(ELEMENT_PRIORS).filter(prior => !named.has(prior))).toEqual([])
  })
})

test('a drop of which no slope tells anything is a slip in nine of a hundred', () => {
  const [one] = explainDrops([dropOf([0.3, 1], 0, 1)], {
    ...{ elements: null, labels: [], periodS: 0.05, hiddenN: null },
  })
  expect(one!.kind).toBe('partial-break')
  // Less what a drop that stands ten times over the least one leaves unsure.
  expect(one!.confidence).toBeCloseTo(0.91 * (1 - 0.3 / 100), 6)
})

test('the counts that are told hold 95 % of the chance, and no shorter run of counts does', () => {
  for (const elements of [3, 6, 12, 20])
    for (const share of [0.06, 0.11, 0.17, 0.26, 0.35]) {
      const drop = dropOf([share, 1 - share], 0)
      const { chances } = countElements([{ drop, label: null }], {
        ...{ total: elements, broken: false, hiddenN: 0, periodS: 0.05 },
      })
      const counts = chances[0]!.counts
      const range = explain([[share, 1 - share]], elements, 0.05)[0]!.elements
      if (range === null) continue
      const held = (low: number, high: number): number =>
        counts.slice(low, high + 1).reduce((sum, chance) => sum + chance, 0)
      expect(held(range.low, range.high)).toBeGreaterThanOrEqual(0.95)
      const width = range.high - range.low
      for (let low = 1; low + width - 1 < counts.length && width > 0; low++)
        expect(held(low, low + width - 1)).toBeLessThan(0.95)
    }
})

import type { Comparison } from '../document.ts'
import { borrowedDifference, LEAST_LIKE, type RelativeScatter, scatterPrior } from './borrowed.ts'
import { quantityWords } from './quantity.ts'
import { atLeastOf, measuredOf, valuesOf } from './specimen.ts'
import { isSeen, type Judged } from './verdict.ts'
import { amount, percent, span } from './words.ts'

/** More specimens than these of each speak for themselves. */
const MOST_FEW = 4

/** Pairs in which a group is as small as 2 to 4, with the scatter of like groups; `null` where there is none, or nothing to borrow. */
export function borrowedAnswer(judged: Judged, like: readonly RelativeScatter[]): Comparison['borrowed'] {
  const prior = scatterPrior(like)
  const { scale } = judged
  const few = judged.pairs.filter(p => {
    const fewest = Math.min(p.tests.nA, p.tests.nB)
    const bounded = atLeastOf(p.a.specimens).length + atLeastOf(p.b.specimens).length > 0
    return fewest >= 2 && fewest <= MOST_FEW && !bounded
  })
  if (prior === null || few.length === 0) return null
  const words = quantityWords(judged.quantity)
  const pairs = few.flatMap(pair => {
    const found = borrowedDifference(
      valuesOf(measuredOf(pair.a.specimens)),
      valuesOf(measuredOf(pair.b.specimens)),
      prior,
      Math.max(1, judged.family.count),
    )
    if (found === null) return []
    const { difference, ci95, p } = found
    const [more, less] = difference > 0 ? [pair.a, pair.b] : [pair.b, pair.a]
    const ends: readonly [number, number] = difference > 0 ? ci95 : [-ci95[1], -ci95[0]]
    const half = (ci95[1] - ci95[0]) / 2
    const plain = isSeen(pair)
      ? 'by their own specimens alone they differ too'
      : 'by their own specimens alone it is not decided'
    const text =
      p < 0.05
        ? `${more.name} ${words.more} than ${less.name} by ${amount(Math.abs(difference), scale, half)} (95 % interval ${span(ends, scale)}); ${plain}`
        : `not decided between ${pair.a.name} and ${pair.b.name} (95 % interval of the difference ${span(ci95, scale)})`
    return [{ a: pair.a.name, b: pair.b.name, ...found, text }]
  })
  if (pairs.length === 0) return null
  const { cv, cv95, worthDf, groups } = prior
  return {
    prior: { cv, cv95, worthDf, groups },
    pairs,
    text: `With scatter borrowed from ${groups} like groups (typically ${percent(cv)} of the mean, ${percent(cv95[0])} to ${percent(cv95[1])} in 95 of 100; worth ${Math.round(worthDf)} degrees of freedom beside their own): ${pairs.map(p => p.text).join('; ')}. It holds as far as these specimens scatter like those.`,
  }
}

/** What is said where too few like groups are there to borrow from. */
export const tooFewLike = (count: number): string | null =>
  count >= LEAST_LIKE
    ? null
    : `${count} like groups with a scatter are too few to borrow from: it takes ${LEAST_LIKE}.`

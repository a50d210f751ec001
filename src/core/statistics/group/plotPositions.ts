/** A broken specimen's place on a probability plot. */
export interface PlotPosition {
  /** Place in the list given. */
  readonly index: number
  readonly value: number
  /** Rank from 1, raised for the specimens that dropped out below it. */
  readonly rank: number
  /** Share of specimens that break at or below the value. */
  readonly probability: number
}

/**
 * Places on a probability plot for the broken specimens, in rising order. Censored ones take no place of their own; each
 * rank after them is raised by (n + 1 − last rank)/(1 + specimens left), Johnson's adjustment (Johnson 1964, The
 * Statistical Treatment of Fatigue Experiments), and its share is the median rank (rank − 0.3)/(n + 0.4) (Benard and
 * Bos-Levenbach 1953). Where a broken and a censored specimen have the same value, the broken one comes first.
 */
export function plotPositions(
  values: ArrayLike<number>,
  censored: readonly boolean[] = [],
): readonly PlotPosition[] {
  const n = values.length
  const late = (i: number): number => (censored[i] === true ? 1 : 0)
  const order = Array.from({ length: n }, (_, i) => i).sort(
    (a, b) => values[a]! - values[b]! || late(a) - late(b),
  )
  let rank = 0
  const positions: PlotPosition[] = []
  order.forEach((index, place) => {
    if (censored[index] === true) return
    rank += (n + 1 - rank) / (1 + n - place)
    positions.push({ index, value: values[index]!, rank, probability: (rank - 0.3) / (n + 0.4) })
  })
  return positions
}

/** ln(−ln(1 − p)): on it, against ln of strength, a Weibull distribution is a straight line. */
export const stretch = (p: number): number => Math.log(-Math.log1p(-p))

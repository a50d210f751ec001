import type { BudgetLine, Reading } from './document.ts'

/** Coverage factor by which a reading widens a standard uncertainty to 95 %. */
const COVER = 2

/**
 * What went on between the last reading and the break adds F dx to the work; on a curve that rises straight, W = F²/2k,
 * that is twice the share by which it moves the peak. A stiffness, of the straight part, has none of it, and a later
 * peak's own doubt holds it already.
 */
export const LAST_SAMPLE_OF_WORK = 2

/**
 * Lines of the peak's budget that move a figure in proportion to the force (later peak, work, stiffness), as shares of
 * the figure: what a rig or a day moves together by as much as the peak, what lies between samples by `lastSample`
 * times as much. Empty where the reading has no peak above 0.
 */
export function sharesInProportion(
  { budget, results }: Pick<Reading, 'budget' | 'results'>,
  lastSample = 0,
): { readonly line: BudgetLine; readonly share: number }[] {
  const { valueN } = results.peakForce
  if (valueN === null || !(valueN > 0)) return []
  const timesOf = ({ shared, source }: BudgetLine): number =>
    shared === 'rig' || shared === 'day' ? 1 : source === 'between samples' ? lastSample : 0
  return budget
    .map(line => ({ line, share: (timesOf(line) * line.standardN) / valueN }))
    .filter(({ share }) => share > 0)
}

type LaterPeak = Reading['results']['laterPeaks'][number]

/**
 * Half-width in newton of the 95 % interval of a later peak: `uncertaintyN` of the document, which is of this pull and
 * its zero, and the scale's share. `null` where the zero was not seen.
 */
export const laterPeakHalfN = (
  reading: Pick<Reading, 'budget' | 'results'>,
  { valueN, uncertaintyN }: LaterPeak,
): number | null => widened(reading, valueN, uncertaintyN, 0)

/**
 * Half-width in joule of the 95 % interval of the work: `uncertaintyJ` of the document, which is the zero's over the
 * way, with the scale's share and what went on after the last reading. `null` where there is no work or its zero was
 * not seen.
 */
export function workHalfJ(reading: Pick<Reading, 'budget' | 'results'>): number | null {
  const { work } = reading.results
  return work && widened(reading, work.valueJ, work.uncertaintyJ, LAST_SAMPLE_OF_WORK)
}

function widened(
  reading: Pick<Reading, 'budget' | 'results'>,
  value: number,
  half: number | null,
  lastSample: number,
): number | null {
  if (half === null) return null
  const shares = sharesInProportion(reading, lastSample).map(({ share }) => COVER * share * value)
  return Math.hypot(half, ...shares)
}

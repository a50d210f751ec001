import type { Assumption } from '../../core/recording.ts'
import type { ColumnView } from './columnView.ts'

/** So many whole numbers at the end, other than nought, tell that decimals are written no more. */
const FEWEST = 8
/** From a display without room for decimals the force goes on where it was, to within this share. */
const GOES_ON = 0.5

/**
 * Where a force that had decimals leaps and goes on in whole numbers only, beyond all it was before: a
 * decimal mark that is left out, or grams after kilograms. A display that has no room for decimals any more
 * goes on without such a leap. Of the numbers as they were read, before any unit; rows without one count for
 * nothing.
 */
export function forceScaleChange(
  { column, shown }: ColumnView,
  rows: number,
  lineOf: (row: number) => number,
): Assumption | null {
  const { values } = column
  let from = rows
  while (from > 0 && Number.isInteger(values[from - 1])) from--
  if (column.form !== 'number' || from < FEWEST || rows - from < FEWEST) return null
  const told = values.subarray(from, rows).filter(value => value !== 0)
  if (told.length < FEWEST) return null
  const greatest = (some: Float64Array): number =>
    some.reduce((most, value) => Math.max(most, Math.abs(value) || 0), 0)
  const before = greatest(values.subarray(0, from))
  const after = greatest(told)
  const first = values[from]!
  if (after <= before) return null
  const leapsAtOnce = Math.abs(first - values[from - 1]!) > GOES_ON * Math.abs(first)
  // Small at first by chance, the numbers show it where they leap beyond all that was before.
  const leapsBeyond = values.subarray(from, rows).some((value, i) => {
    const size = Math.abs(value)
    return size > before && size - Math.abs(values[from + i - 1]!) > GOES_ON * size
  })
  if (!leapsAtOnce && !leapsBeyond) return null
  return {
    code: 'contradiction',
    text: `From line ${lineOf(from)} on ${shown} holds whole numbers only, up to ${after}, and before numbers with decimals, up to ${before}: its scale or unit seems to change there. Split the log at that line.`,
  }
}

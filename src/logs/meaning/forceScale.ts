import type { Assumption } from '../../core/recording.ts'
import type { ColumnView } from './columnView.ts'

/** So many whole numbers at the end, other than nought, tell that decimals are written no more. */
const FEWEST = 8
/** So many times what stood before, no pull grows where its display changes. */
const BEYOND = 50
/** A step to so many times the number before, roughly, is one of the scale. */
const SCALES = [10, 100, 1000]
const ROUGHLY = 0.3

/**
 * Where a force that had decimals goes on in whole numbers only, many times as great: a decimal mark that is left out, or
 * grams after kilograms. A display that has no room for decimals any more goes on without such a step. Of the numbers
 * as they were read, before any unit.
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
    some.reduce((most, value) => Math.max(most, Math.abs(value)), 0)
  const before = greatest(values.subarray(0, from))
  const after = greatest(told)
  const step = Math.abs(values[from]! / values[from - 1]!)
  const isStep = SCALES.some(scale => Math.abs(step / scale - 1) < ROUGHLY) && after > before
  if (!isStep && after < BEYOND * before) return null
  return {
    code: 'contradiction',
    text: `From line ${lineOf(from)} on ${shown} holds whole numbers only, up to ${after}, and before numbers with decimals, up to ${before}: its scale or unit seems to change there. Split the log at that line.`,
  }
}

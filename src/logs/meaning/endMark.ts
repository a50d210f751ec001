import type { Assumption } from '../../core/recording.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import type { ColumnView } from './columnView.ts'
import { middleStep } from './timeBase.ts'

/** A mark leaps so many ordinary steps away from the row before. */
const LEAP = 20

/**
 * Takes out the rows at the very end that hold one and the same value in all columns of numbers, two at
 * least, far from the row before in the one that rises: the mark by which a program ends its file, or the
 * room that it did not fill.
 */
export function takeOutEndMark(
  table: SampleTable,
  force: ColumnView,
  time: ColumnView | null,
): Assumption | null {
  const numbers = table.columns.filter(({ form }) => form === 'number')
  const last = table.rows - 1
  const value = numbers[0]?.values[last]
  if (numbers.length < 2 || last < 10 || value === undefined || !Number.isFinite(value)) return null
  const isMark = (row: number): boolean => numbers.every(({ values }) => values[row] === value)
  let first = last + 1
  while (first > 10 && isMark(first - 1)) first--
  if (first > last) return null
  const leaps = numbers.some(column => {
    if (column === force.column || (time !== null && column !== time.column)) return false
    const before = column.values[first - 1]!
    const step = middleStep(column.values.subarray(0, first))
    return step > 0 && Math.abs(value - before) > LEAP * step
  })
  if (!leaps) return null
  for (let row = first; row <= last; row++) {
    force.column.values[row] = Number.NaN
    force.column.missing++
  }
  table.endMarkRow = first
  const line = table.lineOf(first)
  return {
    code: 'end-mark',
    text:
      first === last
        ? `The last row (line ${line}) holds ${value} in every column: it marks the end of the file and is no sample.`
        : `The last ${last - first + 1} rows (from line ${line} on) hold ${value} in every column: they fill the end of the file and are no samples.`,
  }
}

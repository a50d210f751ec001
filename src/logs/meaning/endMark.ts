import type { Assumption } from '../../core/recording.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import type { ColumnView } from './columnView.ts'
import { middleStep } from './timeBase.ts'

/** A mark leaps so many ordinary steps away from the row before. */
const LEAP = 20

/**
 * Takes out a last row that holds one value in all columns of numbers, two at least, far from the row before in the one
 * that rises: the mark by which a program ends its file.
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
  if (!numbers.every(({ values }) => values[last] === value)) return null
  const leaps = numbers.some(column => {
    if (column === force.column || (time !== null && column !== time.column)) return false
    const before = column.values[last - 1]!
    const step = middleStep(column.values.subarray(0, last))
    return step > 0 && Math.abs(value - before) > LEAP * step
  })
  if (!leaps) return null
  force.column.values[last] = Number.NaN
  force.column.missing++
  const line = table.lineOf(last)
  table.endMarkRow = last
  return {
    code: 'end-mark',
    text: `The last row (line ${line}) holds ${value} in every column: it marks the end of the file and is no sample.`,
  }
}

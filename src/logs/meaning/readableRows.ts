import { nextStep, sumOf } from '../../core/signal/scan.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import { secondsIn } from '../words/units.ts'
import type { ColumnView } from './columnView.ts'
import { middleStep } from './timeBase.ts'

/** Rows in which all of these columns have a value, or `null` where that is every row. */
export function readableRows(table: SampleTable, needed: readonly ColumnView[]): Uint32Array | null {
  if (needed.every(({ column }) => column.missing === 0)) return null
  const kept: number[] = []
  for (let i = 0; i < table.rows; i++) {
    if (needed.every(({ column }) => Number.isFinite(column.values[i]!))) kept.push(i)
  }
  return Uint32Array.from(kept)
}

/**
 * How many ordinary steps a time must leap ahead, and fall back from, to be a damaged number and not a pause.
 */
const STRAY_STEPS = 1000

/**
 * Takes out single times that leap far ahead between two that follow each other: a digit too many, a damaged
 * cell.
 */
export function dropStrayTimes(table: SampleTable, { column }: ColumnView): void {
  const { values } = column
  const step = middleStep(values.subarray(0, table.rows))
  const told = table.toldExtent(column)
  if (step === 0 || (told && told.greatestStep <= STRAY_STEPS * step)) return
  const next = (i: number): number =>
    nextStep(values, i, table.rows - 1, STRAY_STEPS * step, Number.POSITIVE_INFINITY)
  for (let i = next(1); i < table.rows - 1; i = next(i + 1)) {
    const on = values[i + 1]! - values[i - 1]!
    if (on > 0 && on <= 20 * step) {
      table.badRow(table.lineOf(i), `time ${values[i]}`)
      values[i] = Number.NaN
      column.missing++
    }
  }
}

/** A total agrees with the sum of its column to this share: both are rounded. */
const TOTAL_SHARE = 0.001
/** A total of times leaps at least so many ordinary steps ahead. */
const TOTAL_STEPS = 20

/** Takes out a last row that holds the sums of time and force over all others: a row of totals. */
export function dropTotals(table: SampleTable, time: ColumnView, force: ColumnView): void {
  const last = table.rows - 1
  const { values } = time.column
  const step = middleStep(values.subarray(0, table.rows))
  if (last < 2 || !(values[last]! - values[last - 1]! > TOTAL_STEPS * step)) return
  const isTotal = ({ column }: ColumnView): boolean => {
    const sum = sumOf(column.values, 0, last)
    return Math.abs(column.values[last]! - sum) <= TOTAL_SHARE * Math.abs(sum)
  }
  if (!isTotal(time) || !isTotal(force)) return
  table.badRow(table.lineOf(last), `total ${values[last]}`)
  values[last] = Number.NaN
  time.column.missing++
}

/** Takes out times with letters after them that are no unit of time: `5.OO` is a damaged cell. */
export function dropTornTimes(table: SampleTable, { column }: ColumnView): void {
  const { values, unitRuns } = column
  for (const [i, { word, fromRow }] of unitRuns.entries()) {
    if (word === '' || secondsIn(word) !== null) continue
    for (let row = fromRow; row < (unitRuns[i + 1]?.fromRow ?? table.rows); row++) {
      if (!Number.isFinite(values[row]!)) continue
      table.badRow(table.lineOf(row), `time ${values[row]} ${word}`)
      values[row] = Number.NaN
      column.missing++
    }
  }
}

/** The first kept sample at or after a row. */
export function sampleAt(row: number, kept: Uint32Array | null): number {
  if (!kept) return row
  let low = 0
  let high = kept.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (kept[middle]! < row) low = middle + 1
    else high = middle
  }
  return low
}

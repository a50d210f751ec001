import type { Column, SampleTable } from '../table/sampleTable.ts'
import { type HeaderMeaning, headerMeaning } from '../words/header.ts'
import { forceUnitOf, secondsIn } from '../words/units.ts'

/** A column with what its name says and how its numbers run. */
export interface ColumnView {
  readonly index: number
  readonly column: Column
  readonly meaning: HeaderMeaning
  /** As a person would point at it: `column 2 “force_kgf”`. */
  readonly shown: string
  /** Finite values among the rows. */
  readonly count: number
  readonly min: number
  readonly max: number
  /** Never falls but for a few times that a reset or wrap-round may explain, and rises often enough to tell rows apart. */
  readonly rising: boolean
  /** Whole numbers that go up by one with each row. */
  readonly counting: boolean
  readonly whole: boolean
}

export const isDead = (view: ColumnView): boolean => !(view.max > view.min)

export function columnViews(table: SampleTable): ColumnView[] {
  return table.columns.flatMap((column, index) =>
    column.form === 'text' || column.form === 'unit' ? [] : [columnView(column, index, table.rows)],
  )
}

function columnView(column: Column, index: number, rows: number): ColumnView {
  const values = column.values
  let count = 0
  let min = Number.POSITIVE_INFINITY
  let max = Number.NEGATIVE_INFINITY
  let rises = 0
  let falls = 0
  let ones = 0
  let whole = true
  let before = Number.NaN
  for (let i = 0; i < rows; i++) {
    const value = values[i]!
    if (!(value - value === 0)) continue
    count++
    if (value < min) min = value
    if (value > max) max = value
    const step = value - before
    if (step > 0) rises++
    else if (step < 0) falls++
    if (step === 1) ones++
    if (whole && value % 1 !== 0) whole = false
    before = value
  }
  const shown = column.name === '' ? `column ${index + 1}` : `column ${index + 1} “${column.name}”`
  return {
    index,
    column,
    meaning: withUnitOfCells(headerMeaning(column.name, column.unitRow), column),
    shown,
    count,
    min,
    max,
    rising: count > 2 && falls <= Math.max(2, 0.002 * count) && rises > 0.02 * count,
    counting: whole && count > 2 && ones > 0.98 * (count - 1) - 2,
    whole,
  }
}

/** A column without a telling name is what the unit in its cells says: `1.23 kg` is a force, `120 ms` a time. */
function withUnitOfCells(meaning: HeaderMeaning, column: Column): HeaderMeaning {
  const word = column.unitRuns[0]?.word
  if (word === undefined || meaning.role !== null) return meaning
  if (secondsIn(word) !== null) return { ...meaning, role: 'time' }
  return forceUnitOf(word) !== null ? { ...meaning, role: 'force' } : meaning
}

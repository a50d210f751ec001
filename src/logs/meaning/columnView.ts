import { printable } from '../../core/printable.ts'
import type { Column, SampleTable } from '../table/sampleTable.ts'
import { type HeaderMeaning, headerMeaning } from '../words/header.ts'
import { multipleForceUnitOf, secondsIn } from '../words/units.ts'

/** A column with what its name says and how its numbers run. */
export interface ColumnView {
  readonly index: number
  readonly column: Column
  readonly meaning: HeaderMeaning
  /** Its name for an option; the second of two of one name is `force (2)`. `''` where it has none. */
  readonly asked: string
  /** As a person would point at it: `column 2 “force_kgf”`. */
  readonly shown: string
  /** Rows that have a value. */
  readonly count: number
  /** How the numbers run; worked out when first asked for, since a named column seldom needs it. */
  readonly run: () => ColumnRun
}

export interface ColumnRun {
  readonly min: number
  readonly max: number
  /**
   * Never falls but for a few times that a reset or wrap-round may explain, and rises often enough to tell
   * rows apart.
   */
  readonly rising: boolean
  /** Whole numbers that go up by one with each row. */
  readonly counting: boolean
  readonly whole: boolean
}

/** Never changes. */
export const isDead = (view: ColumnView): boolean => {
  const { values } = view.column
  // Most columns show at once that they live.
  if (
    view.count > 2 &&
    values[0]! - values[view.count - 1]! !== 0 &&
    values[0]! - values[view.count >> 1]! !== 0
  )
    return false
  return !(view.run().max > view.run().min)
}

export function columnViews(table: SampleTable): ColumnView[] {
  const names = table.columns.map(({ name }) => name.trim().toLowerCase())
  return table.columns.flatMap((column, index) => {
    if (column.form === 'text' || column.form === 'unit') return []
    const same = names.slice(0, index).filter(name => name === names[index]).length
    return [columnView(column, index, table.rows, same)]
  })
}

function columnView(column: Column, index: number, rows: number, before: number): ColumnView {
  const asked = column.name === '' || before === 0 ? column.name : `${column.name} (${before + 1})`
  let known: ColumnRun | null = null
  return {
    index,
    column,
    meaning: ofNumbers(withUnitOfCells(headerMeaning(column.name, column.unitRow), column), column),
    asked,
    shown: column.name === '' ? `column ${index + 1}` : `column ${index + 1} “${printable(asked)}”`,
    count: rows - column.missing,
    run: () => {
      known ??= columnRun(column.values, rows)
      return known
    },
  }
}

function columnRun(values: Float64Array, rows: number): ColumnRun {
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
    if (whole && Math.floor(value) !== value) whole = false
    before = value
  }
  return {
    min,
    max,
    rising:
      count > 2 &&
      falls <= Math.max(Math.min(2, Math.floor(count / 10)), 0.002 * count) &&
      rises > 0.02 * count,
    counting: whole && count > 2 && ones > 0.98 * (count - 1) - 2,
    whole,
  }
}

/** The first unit that the cells of a column carry. */
export const unitWord = (column: Column): string | undefined =>
  column.unitRuns.find(run => run.word !== '')?.word

/** `data` is a date in some languages, but not of a column of numbers. */
const ofNumbers = (meaning: HeaderMeaning, { form }: Column): HeaderMeaning =>
  meaning.role === 'date' && form === 'number' ? { ...meaning, role: null } : meaning

/**
 * A column without a telling name is what the unit in its cells says: `1.23 kg` is a force, `120 ms` a time.
 */
function withUnitOfCells(meaning: HeaderMeaning, column: Column): HeaderMeaning {
  const word = unitWord(column)
  if (word === undefined || meaning.role !== null) return meaning
  if (secondsIn(word) !== null) return { ...meaning, role: 'time' }
  return multipleForceUnitOf(word) !== null ? { ...meaning, role: 'force' } : meaning
}

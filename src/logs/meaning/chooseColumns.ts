import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { LogOptions } from '../options.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import { findForce } from './chooseForce.ts'
import { guessedTime, toldTime } from './chooseTime.ts'
import { noSuchColumn, timeNotClear } from './columnProblems.ts'
import { type ColumnView, columnViews } from './columnView.ts'
import { joinTimeParts } from './timeParts.ts'

export interface ChosenColumns {
  readonly force: ColumnView
  /** `null` where times come from a rate. */
  readonly time: ColumnView | null
  /** What was taken for the time by its steps alone, where no rate overrules it. */
  readonly timeIsGuess: boolean
  /** A rising column that may be the time, which a rate overrules. */
  readonly overruled: ColumnView | null
  /** A rate was told, but the log has times of its own, which count. */
  readonly overrulesRate: boolean
  /** A date beside a clock time. */
  readonly date: ColumnView | null
  readonly others: readonly ColumnView[]
  /** Why this force column, where another might have been meant. */
  readonly because: string
  /** Columns that might be the force as well, but only idle. */
  readonly idle: readonly ColumnView[]
}

/**
 * Which column is the time and which the force: what the options name, else what the header says, else how
 * the numbers run. A time that is named, has a unit of time or is a clock stands before a rate; a guess does
 * not.
 */
export function chooseColumns(table: SampleTable, name: string, options: LogOptions): Outcome<ChosenColumns> {
  const views = columnViews(table).filter(view => view.count > 0)
  const problems: Problem[] = []
  const named = (which: string | undefined, option: string): ColumnView | null => {
    if (which === undefined) return null
    const found = namedColumn(views, which)
    if (!found) problems.push(noSuchColumn(views, which, option, name))
    return found
  }
  const timeGiven = named(options.time, '--time')
  const forceGiven = named(options.force, '--force')
  if (problems.length > 0) return wrong(...problems)
  const rest = views.filter(view => view !== forceGiven)
  const parts = timeGiven === null ? joinTimeParts(rest, table.rows) : null
  const told = timeGiven ?? parts?.time ?? toldTime(rest, options.rateHz !== undefined, forceGiven)
  const guess = told === null && rest.length > 0 ? guessedTime(views, rest, table.rows) : null
  const byRate = told === null && options.rateHz !== undefined
  if (guess !== null && !guess.isClock && !byRate) return wrong(timeNotClear(guess.view, name))
  const time = told ?? guess?.view ?? null
  const date = time?.column.form === 'clock' ? (rest.find(view => view.column.form === 'date') ?? null) : null
  const left = views.filter(
    view => view.index !== time?.index && view !== date && !parts?.joined.includes(view),
  )
  // Beside stamps, an unnamed column may count the seconds.
  const seconds = time !== null && time.column.form !== 'number' ? guessedTime(left, left, table.rows) : null
  const force = forceGiven
    ? { view: forceGiven, because: '', idle: [] }
    : findForce(seconds?.isClock ? left.filter(view => view !== seconds.view) : left, time, name, table.rows)
  if ('problem' in force) return wrong(force.problem)
  return fine({
    force: force.view,
    time: byRate ? null : time,
    timeIsGuess: told === null && guess !== null && !byRate,
    overruled: byRate ? (guess?.view ?? null) : null,
    overrulesRate: options.rateHz !== undefined && told !== null,
    date: byRate ? null : date,
    others: left.filter(view => view !== force.view && view.column.form === 'number'),
    because: force.because,
    idle: force.idle,
  })
}

/** The column of this name (`force (2)`: the second of that name) or number from 1. */
export function namedColumn(views: readonly ColumnView[], which: string): ColumnView | null {
  const folded = which.trim().toLowerCase()
  return (
    views.find(view => view.column.name.trim().toLowerCase() === folded) ??
    views.find(view => view.asked !== '' && view.asked.toLowerCase() === folded) ??
    (/^\d+$/.test(folded) ? views.find(view => view.index === Number(folded) - 1) : undefined) ??
    null
  )
}

import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { N_PER } from '../../core/units/force.ts'
import { type LogOptions, settledBy } from '../options.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import { multipleForceUnitOf } from '../words/units.ts'
import { stepsLikeClock } from './clockSteps.ts'
import { type ColumnView, columnViews, isDead, unitWord } from './columnView.ts'
import { liveOf } from './liveness.ts'
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

function noSuchColumn(views: readonly ColumnView[], which: string, option: string, name: string): Problem {
  return {
    where: `${name}, ${option}`,
    what: `there is no column of numbers “${printable(which)}”; there are ${listed(views)}.`,
    cure: `Give ${option} one of these names, or a number from 1.`,
    fields: settledBy(option === '--time' ? 'time' : 'force'),
  }
}

/** Columns that are named in one message. */
const MOST_LISTED = 8

export const listed = (views: readonly ColumnView[]): string =>
  views
    .slice(0, MOST_LISTED)
    .map(({ shown }) => shown)
    .join(', ') + (views.length > MOST_LISTED ? ` and ${views.length - MOST_LISTED} more` : '')

/**
 * A column that is called a time, has a unit of time, or holds stamps. One that stands still gives way to a
 * rate.
 */
function toldTime(
  views: readonly ColumnView[],
  hasRate: boolean,
  force: ColumnView | null,
): ColumnView | null {
  const stamps = views.filter(view => view.column.form === 'date-time' || view.column.form === 'clock')
  const numbers = views.filter(view => view.column.form === 'number')
  const byName = numbers.filter(view => view.meaning.role === 'time' && view.meaning.standing !== 'set-point')
  // Of several times, one that runs; of these, numbers before stamps: a device's own clock steps more finely.
  const running = byName.length > 1 ? byName.filter(view => view.run().rising) : byName
  const best =
    besideForce(running, force) ??
    running[0] ??
    stamps[0] ??
    byName.find(view => !isDead(view)) ??
    byName[0] ??
    null
  return hasRate && best !== null && isDead(best) ? null : best
}

/**
 * Where tables stand side by side, each with a time of the same name: the one of the table that holds the
 * force.
 */
function besideForce(times: readonly ColumnView[], force: ColumnView | null): ColumnView | null {
  const nameOf = ({ column }: ColumnView): string => column.name.trim().toLowerCase()
  const [first] = times
  if (force === null || !first || times.some(view => nameOf(view) !== nameOf(first))) return null
  return first.index < force.index ? (times.findLast(view => view.index < force.index) ?? null) : null
}

/**
 * A column of numbers that rise from row to row, under no name that makes them something else, and not a mere
 * count of rows. A lone column is the force, however it runs.
 */
function guessedTime(
  views: readonly ColumnView[],
  rest: readonly ColumnView[],
  rows: number,
): { readonly view: ColumnView; readonly isClock: boolean } | null {
  if (views.length < 2) return null
  const rising = rest.filter(
    view =>
      view.column.form === 'number' &&
      view.meaning.role === null &&
      view.run().rising &&
      !view.run().counting,
  )
  const clock = rising.find(view => stepsLikeClock(view, rows))
  // A name that says nothing of a time, among others that tell, is none; without names any of them may be.
  const view = clock ?? rising.find(({ column }) => column.name === '')
  return view ? { view, isClock: clock !== undefined } : null
}

const RANK = { actual: 3, plain: 2, derived: 1, 'set-point': 0 } as const

type Found =
  | { readonly view: ColumnView; readonly because: string; readonly idle: readonly ColumnView[] }
  | { readonly problem: Problem }

function findForce(views: readonly ColumnView[], time: ColumnView | null, name: string, rows: number): Found {
  const numbers = views.filter(view => view.column.form === 'number')
  if (numbers.length === 0) return { problem: noForce(name, time) }
  const forces = numbers.filter(view => view.meaning.role === 'force')
  const unnamed = numbers.filter(view => view.meaning.role === null && !view.run().counting)
  const pool = forces.length > 0 ? forces : unnamed.length > 0 ? unnamed : numbers.length === 1 ? numbers : []
  const [only] = pool
  if (forces.length === 0 && pool.length === 1 && only && isNoForce(only))
    return { problem: noForceBut(only, name) }
  if (pool.length === 0) {
    const likely = numbers.filter(view => !isNoForce(view))
    return { problem: likely.length > 0 ? ambiguous(likely, name) : noForceAmong(numbers, name) }
  }
  const live = forces.length > 0 && forces.every(isDead) ? liveOf(unnamed, rows) : null
  if (live) return { problem: ambiguous([...forces, live], name) }
  const alive = pool.length > 1 ? pool.filter(view => !isDead(view)) : pool
  const candidates = alive.length > 0 ? alive : pool
  const best = Math.max(...candidates.map(rankOf))
  const top = candidates.filter(view => rankOf(view) === best)
  const chosen = top[0]
  if (!chosen || (top.length > 1 && !top.every(view => isSameQuantity(chosen, view)))) {
    const total = sumAmong(top)
    if (total)
      return {
        view: total,
        because: `the sum of ${listed(top.filter(view => view !== total))}`,
        idle: [],
      }
    const moving = liveOf(top, rows)
    if (!moving) return { problem: ambiguous(top, name) }
    const idle = top.filter(view => view !== moving)
    return { view: moving, because: `${listed(idle)} ${idle.length > 1 ? 'idle' : 'idles'} beside it`, idle }
  }
  return { view: chosen, because: reason(chosen, pool, alive), idle: [] }
}

/**
 * Actual before plain before derived before wished for; within each a force before raw counts before no unit.
 */
function rankOf(view: ColumnView): number {
  const unit = view.meaning.unit
  const word = unitWord(view.column)
  const inForce =
    (unit?.of === 'force' && unit.unit !== 'counts') ||
    (word !== undefined && multipleForceUnitOf(word) !== null)
  return (
    3 * RANK[view.meaning.standing] + (unit?.of === 'other' ? -1 : inForce ? 2 : unit?.of === 'force' ? 0 : 1)
  )
}

export const greatest = (view: ColumnView): number =>
  Math.max(Math.abs(view.run().max), Math.abs(view.run().min))

/** How far two columns of one quantity may lie apart, of the greatest: what rounding to a display does. */
const ROUNDING = 0.005

/** The same numbers twice, or in two units whose ratio they have: one is as good as the other. */
function isSameQuantity(a: ColumnView, b: ColumnView): boolean {
  if (a === b) return true
  const [perA, perB] = [newtonPer(a), newtonPer(b)]
  const scale = greatest(a)
  if (scale === 0 || (perA === null) !== (perB === null)) return false
  const k = (perA ?? 1) / (perB ?? 1)
  const step = Math.max(1, Math.floor(a.column.values.length / 2000))
  for (let i = 0; i < a.column.values.length; i += step) {
    const difference = Math.abs((a.column.values[i] ?? 0) * k - (b.column.values[i] ?? 0))
    if (difference > ROUNDING * k * scale) return false
  }
  return true
}

/** The one that is the sum of all others, row by row: left and right cell, and both. */
function sumAmong(views: readonly ColumnView[]): ColumnView | null {
  const unit = JSON.stringify(views[0]?.meaning.unit)
  if (views.length < 3 || views.some(view => JSON.stringify(view.meaning.unit) !== unit)) return null
  return (
    views.find(view =>
      isSumOf(
        view,
        views.filter(other => other !== view),
      ),
    ) ?? null
  )
}

function isSumOf(total: ColumnView, parts: readonly ColumnView[]): boolean {
  const scale = Math.max(greatest(total), ...parts.map(greatest))
  const rows = total.column.values.length
  const step = Math.max(1, Math.floor(rows / 2000))
  if (scale === 0 || parts.some(isDead)) return false
  for (let i = 0; i < rows; i += step) {
    const sum = parts.reduce((all, { column }) => all + column.values[i]!, 0)
    if (Math.abs(sum - total.column.values[i]!) > ROUNDING * scale) return false
  }
  return true
}

/** Newton in one of a column's unit; `null` where it is in none of force. */
function newtonPer({ column, meaning }: ColumnView): number | null {
  const word = unitWord(column)
  const unit =
    (word === undefined ? null : multipleForceUnitOf(word)) ??
    (meaning.unit?.of === 'force' ? meaning.unit : null)
  return unit === null || unit.unit === 'counts' ? null : unit.times * N_PER[unit.unit]
}

function reason(chosen: ColumnView, pool: readonly ColumnView[], alive: readonly ColumnView[]): string {
  const others = pool.filter(view => view !== chosen)
  const parts = [
    ['the set-point', others.filter(view => view.meaning.standing === 'set-point')],
    ['constant', others.filter(view => !alive.includes(view))],
    ['also there', others.filter(view => alive.includes(view) && view.meaning.standing !== 'set-point')],
  ] as const
  return parts
    .filter(([, found]) => found.length > 0)
    .map(
      ([word, found]) =>
        `${listed(found)} ${word === 'the set-point' ? 'is the set-point' : word === 'constant' ? 'is constant' : 'is kept beside it'}`,
    )
    .join(', ')
}

function noForce(name: string, time: ColumnView | null): Problem {
  return {
    where: name,
    what: time
      ? `beside the time (${time.shown}) there is no column of numbers.`
      : 'there is no column of numbers.',
    cure: 'A log needs one column of force; name it with --force, or give --rate if this one is the force.',
    fields: settledBy('force', 'rateHz'),
  }
}

/** A length, a temperature or a stress; a voltage may be what a cell gives. */
const isNoForce = ({ meaning: { role, unit, unitText } }: ColumnView): boolean =>
  role === 'travel' ||
  role === 'extension' ||
  role === 'temperature' ||
  (role === 'other' && unit?.of === 'other' && !/^[mµu]?v/i.test(unitText))

const noForceBut = (only: ColumnView, name: string): Problem => ({
  where: name,
  what: `there is no column of force: ${only.shown} is ${only.meaning.role === 'other' ? `in ${printable(only.meaning.unitText, 20)}` : `one of ${only.meaning.role}`}.`,
  cure: 'Log the force too; or, if this is it after all, say so with --force and --unit.',
  fields: settledBy('force', 'unit'),
})

const noForceAmong = (views: readonly ColumnView[], name: string): Problem => ({
  where: name,
  what: `there is no column of force among ${listed(views)}.`,
  cure: 'Log the force too; or, if one of them is it after all, say so with --force and --unit.',
  fields: settledBy('force', 'unit'),
})

const timeNotClear = (rising: ColumnView, name: string): Problem => ({
  where: name,
  what: `no column is called a time; ${rising.shown} rises, but not in the steps of a clock, and may as well be a travel.`,
  cure: `Give the readings a second with --rate, for instance --rate 10; or say --time ${optionFor(rising)} if it is the time.`,
  fields: settledBy('rateHz', 'time'),
})

/** How an option names a column. */
const optionFor = (view: ColumnView): string =>
  view.asked === '' ? String(view.index + 1) : JSON.stringify(printable(view.asked))

const ambiguous = (views: readonly ColumnView[], name: string): Problem => ({
  where: name,
  what: `which column is the force is not clear: it may be ${listed(views)}.`,
  cure: `Say which: ${views
    .slice(0, MOST_LISTED)
    .map(view => `--force ${optionFor(view)}`)
    .join(' or ')}${views.length > MOST_LISTED ? ', or another' : ''}.`,
  fields: settledBy('force'),
})

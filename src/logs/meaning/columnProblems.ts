import { printable } from '../../core/printable.ts'
import type { Problem } from '../../core/problem.ts'
import { settledBy } from '../options.ts'
import type { ColumnView } from './columnView.ts'

export function noSuchColumn(
  views: readonly ColumnView[],
  which: string,
  option: string,
  name: string,
): Problem {
  return {
    where: `${name}, ${option}`,
    what: `there is no column of numbers “${printable(which)}”; there are ${listed(views)}.`,
    cure: `Give ${option} one of these names, or a number from 1.`,
    fields: settledBy(option === '--time' ? 'time' : 'force'),
  }
}

/** Columns that are named in one message. */
const MOST_LISTED = 8

/** Columns as a message names them. */
export const listed = (views: readonly ColumnView[]): string =>
  views
    .slice(0, MOST_LISTED)
    .map(({ shown }) => shown)
    .join(', ') + (views.length > MOST_LISTED ? ` and ${views.length - MOST_LISTED} more` : '')

export function noForce(name: string, time: ColumnView | null): Problem {
  return {
    where: name,
    what: time
      ? `beside the time (${time.shown}) there is no column of numbers.`
      : 'there is no column of numbers.',
    cure: 'A log needs one column of force; name it with --force, or give --rate if this one is the force.',
    fields: settledBy('force', 'rateHz'),
  }
}

export const noForceBut = (only: ColumnView, name: string): Problem => ({
  where: name,
  what: `there is no column of force: ${only.shown} is ${only.meaning.role === 'other' ? `in ${printable(only.meaning.unitText, 20)}` : `one of ${only.meaning.role}`}.`,
  cure: 'Log the force too; or, if this is it after all, say so with --force and --unit.',
  fields: settledBy('force', 'unit'),
})

export const noForceAmong = (views: readonly ColumnView[], name: string): Problem => ({
  where: name,
  what: `there is no column of force among ${listed(views)}.`,
  cure: 'Log the force too; or, if one of them is it after all, say so with --force and --unit.',
  fields: settledBy('force', 'unit'),
})

export const timeNotClear = (rising: ColumnView, name: string): Problem => ({
  where: name,
  what: `no column is called a time; ${rising.shown} rises, but not in the steps of a clock, and may as well be a travel.`,
  cure: `Give the readings a second with --rate, for instance --rate 10; or say --time ${optionFor(rising)} if it is the time.`,
  fields: settledBy('rateHz', 'time'),
})

/** How an option names a column. */
const optionFor = (view: ColumnView): string =>
  view.asked === '' ? String(view.index + 1) : JSON.stringify(printable(view.asked))

export const ambiguous = (views: readonly ColumnView[], name: string): Problem => ({
  where: name,
  what: `which column is the force is not clear: it may be ${listed(views)}.`,
  cure: `Say which: ${views
    .slice(0, MOST_LISTED)
    .map(view => `--force ${optionFor(view)}`)
    .join(' or ')}${views.length > MOST_LISTED ? ', or another' : ''}.`,
  fields: settledBy('force'),
})

import { stepsLikeClock } from './clockSteps.ts'
import { type ColumnView, isDead } from './columnView.ts'

/**
 * A column that is called a time, has a unit of time, or holds stamps. One that stands still gives way to a
 * rate.
 */
export function toldTime(
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
export function guessedTime(
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

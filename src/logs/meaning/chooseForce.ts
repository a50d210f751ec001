import type { Problem } from '../../core/problem.ts'
import { N_PER } from '../../core/units/force.ts'
import { multipleForceUnitOf } from '../words/units.ts'
import { ambiguous, listed, noForce, noForceAmong, noForceBut } from './columnProblems.ts'
import { type ColumnView, isDead, unitWord } from './columnView.ts'
import { liveOf } from './liveness.ts'

const RANK = { actual: 3, plain: 2, derived: 1, 'set-point': 0 } as const

type Found =
  | { readonly view: ColumnView; readonly because: string; readonly idle: readonly ColumnView[] }
  | { readonly problem: Problem }

/** The column of force among those that are not the time, and why it is it; or what makes that unclear. */
export function findForce(
  views: readonly ColumnView[],
  time: ColumnView | null,
  name: string,
  rows: number,
): Found {
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

/** Greatest amount in a column, of either sign. */
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

/** A length, a temperature or a stress; a voltage may be what a cell gives. */
const isNoForce = ({ meaning: { role, unit, unitText } }: ColumnView): boolean =>
  role === 'travel' ||
  role === 'extension' ||
  role === 'temperature' ||
  (role === 'other' && unit?.of === 'other' && !/^[mµu]?v/i.test(unitText))

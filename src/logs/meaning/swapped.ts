import type { ColumnView } from './columnView.ts'

/** So many rows one after the other tell a clock. */
const ROWS = 8
const MOST_PLACES = 256

/**
 * A row from which on the column of force steps like the clock of the first times and that of the times does
 * not: the columns have changed their places. `null` where they have not. Looked for at places all over the
 * log, at every row of a short one.
 */
export function swappedAt(force: ColumnView, time: ColumnView, rows: number): number | null {
  if (force.column.form !== 'number' || time.column.form !== 'number') return null
  const t = time.column.values
  const f = force.column.values
  const step = t[1]! - t[0]!
  if (!(step > 0) || rows < 2 * ROWS) return null
  const isLikeClock = (values: Float64Array, row: number, tolerance: number): boolean => {
    for (let i = row + 1; i < row + ROWS; i++)
      if (!(Math.abs(values[i]! - values[i - 1]! - step) <= tolerance * step)) return false
    return true
  }
  const stride = Math.max(1, Math.floor(rows / MOST_PLACES))
  for (let row = 0; row + ROWS <= rows; row += stride)
    if (isLikeClock(f, row, 0.05) && !isLikeClock(t, row, 0.5)) return row
  return null
}

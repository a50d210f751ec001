import type { ColumnView } from './columnView.ts'

const MOST_VALUES = 20_000
/** White noise goes about four of its steps up and down, a pull some dozens at least. */
const IDLE_BELOW = 8
const LIVE_FROM = 25

/** A column that moves by less than this share of another beside it is its cross-talk, or nothing. */
const SLIGHT = 0.1

interface Life {
  /** Range of the numbers, a hundredth at either end left out. */
  readonly range: number
  /** The range over the mean step from row to row: what a pull has, noise has not. */
  readonly live: number
}

function lifeOf({ column }: ColumnView, rows: number): Life {
  const stride = Math.max(1, Math.ceil(rows / MOST_VALUES))
  const values: number[] = []
  let sum = 0
  let steps = 0
  for (let i = 0; i < rows; i += stride) {
    const value = column.values[i]!
    if (!Number.isFinite(value)) continue
    values.push(value)
    const next = column.values[i + 1]
    if (i + 1 < rows && next !== undefined && Number.isFinite(next)) {
      sum += Math.abs(next - value)
      steps++
    }
  }
  const sorted = values.sort((a, b) => a - b)
  const range =
    (sorted[Math.floor(0.99 * (sorted.length - 1))] ?? 0) -
    (sorted[Math.floor(0.01 * (sorted.length - 1))] ?? 0)
  return { range, live: sum > 0 ? range / (sum / steps) : 0 }
}

/**
 * The one column that goes through a pull while each of the others idles: holds mere noise or, in the same
 * unit, moves by a small share of it, as the cross axes of a cell do. `null` where that is not so.
 */
export function liveOf(views: readonly ColumnView[], rows: number): ColumnView | null {
  const found = views.map(view => ({ view, ...lifeOf(view, rows) }))
  const [first] = found.filter(({ live }) => live >= LIVE_FROM).sort((a, b) => b.range - a.range)
  if (!first) return null
  const unit = JSON.stringify(first.view.meaning.unit)
  const idles = ({ view, range, live }: (typeof found)[number]): boolean =>
    live < IDLE_BELOW || (JSON.stringify(view.meaning.unit) === unit && range < SLIGHT * first.range)
  return found.every(one => one === first || idles(one)) ? first.view : null
}

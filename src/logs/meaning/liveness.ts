import type { ColumnView } from './columnView.ts'

const MOST_VALUES = 20_000
/** White noise goes about four of its steps up and down, a pull some dozens at least. */
const IDLE_BELOW = 8
const LIVE_FROM = 25

/** Range of the numbers over their mean step from row to row, a hundredth at either end left out: what a pull has, noise has not. */
function liveness({ column }: ColumnView, rows: number): number {
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
  return sum > 0 ? range / (sum / steps) : 0
}

/** The one column that goes through a pull while all others idle; `null` where that is not so. */
export function onlyLive(views: readonly ColumnView[], rows: number): ColumnView | null {
  const found = views.map(view => ({ view, live: liveness(view, rows) }))
  const live = found.filter(one => one.live >= LIVE_FROM)
  const [only] = live
  return only && live.length === 1 && found.every(one => one === only || one.live < IDLE_BELOW)
    ? only.view
    : null
}

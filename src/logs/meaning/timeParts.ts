import { secondsIn } from '../words/units.ts'
import type { ColumnView } from './columnView.ts'

/** How many of a unit of time (by its seconds) make one of the next: a part that stays below runs round. */
const ROUND: Readonly<Record<number, number>> = { 3600: 24, 60: 60, 1: 60, 0.001: 1000, 0.000001: 1_000_000 }

interface Part {
  readonly view: ColumnView
  readonly secondsIn: number
}

/**
 * Hours, minutes, seconds and less in columns of their own → one time in the finest unit, in place of the
 * finest. Columns are parts of one time where the finer runs round when the coarser goes on; `null` where
 * none do so.
 */
export function joinTimeParts(
  views: readonly ColumnView[],
  rows: number,
): { readonly time: ColumnView; readonly joined: readonly ColumnView[] } | null {
  const parts = views
    .flatMap((view): Part[] => {
      const { unit } = view.meaning
      // `h` and `min` alone name other things too, but beside seconds that run round with them they are
      // times.
      const seconds = unit?.of === 'time' ? unit.secondsIn : secondsIn(view.column.name)
      return view.column.form === 'number' && seconds !== null ? [{ view, secondsIn: seconds }] : []
    })
    .sort((a, b) => b.secondsIn - a.secondsIn)
  let finest = parts.findLast((part, i) => i > 0 && runsRound(part, parts[i - 1]!, rows))
  if (!finest) return null
  const chain = [finest]
  for (const part of parts.slice(0, parts.indexOf(finest)).reverse()) {
    if (part.secondsIn <= finest.secondsIn || !isPart(part)) break
    chain.unshift(part)
    finest = part
  }
  return joined(chain, rows)
}

/** Never negative, and never as much as one of the next unit. */
const isPart = ({ view, secondsIn }: Part): boolean => {
  const { min, max } = view.run()
  return min >= 0 && max < (ROUND[secondsIn] ?? 0)
}

/** Falls, and only where whole numbers of the coarser rise. */
function runsRound(finer: Part, coarser: Part, rows: number): boolean {
  if (finer.secondsIn === coarser.secondsIn || !isPart(finer) || !coarser.view.run().whole) return false
  const a = finer.view.column.values
  const b = coarser.view.column.values
  let falls = 0
  let carried = 0
  for (let i = 1; i < rows; i++) {
    if (!(a[i]! < a[i - 1]!)) continue
    falls++
    if (b[i]! !== b[i - 1]!) carried++
  }
  return falls > 0 && carried >= 0.9 * falls
}

/** The sum of the parts; where the coarsest runs round itself, its next unit is carried on. */
function joined(chain: readonly Part[], rows: number) {
  const coarsest = chain[0]!
  const finest = chain.at(-1)!
  const { values } = finest.view.column
  const first = coarsest.view.column.values
  const round = ROUND[coarsest.secondsIn] ?? 0
  const perUnit = chain.map(part => Math.round(part.secondsIn / finest.secondsIn))
  let carry = 0
  let missing = 0
  for (let i = 0; i < rows; i++) {
    if (i > 0 && first[i] === 0 && first[i - 1] === round - 1) carry += round * perUnit[0]!
    let sum = carry
    for (let p = 0; p < chain.length; p++) sum += chain[p]!.view.column.values[i]! * perUnit[p]!
    values[i] = sum
    if (!(sum - sum === 0)) missing++
  }
  finest.view.column.missing = missing
  const views = chain.map(part => part.view)
  return {
    time: { ...finest.view, shown: views.map(({ shown }) => shown).join(' with ') },
    joined: views.slice(0, -1),
  }
}

import { isNeverBelowZero } from '../../core/answer/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'

/** Least and greatest of all that a row draws, with a little room, in the unit shown; `null` where there is nothing. */
export function rangeOf({ specimens, groups, quantity }: Comparison, per: number): [number, number] | null {
  const neverBelow = isNeverBelowZero(quantity, specimens)
  const all = [
    ...specimens.flatMap(s => [s.value, s.low, s.high]),
    ...groups.flatMap(g => [...(g.ci95WithDoubt ?? g.ci95 ?? [])]),
  ].flatMap(value => (value === null ? [] : [(neverBelow ? Math.max(0, value) : value) / per]))
  if (all.length === 0) return null
  const low = Math.min(...all)
  const high = Math.max(...all)
  const room = high > low ? (high - low) * 0.06 : Math.abs(high) * 0.1 || 1
  return [neverBelow ? Math.max(0, low - room) : low - room, high + room]
}

/** How high each of some dots lies so that none covers another: levels from 0, dots `apart` px from each other. */
export function levelsOf(xs: readonly number[], apart: number): number[] {
  const levels: number[] = new Array(xs.length).fill(0)
  const order = xs.map((_, i) => i).sort((a, b) => xs[a]! - xs[b]!)
  const lastAt: number[] = []
  for (const i of order) {
    let level = lastAt.findIndex(last => xs[i]! - last >= apart)
    if (level < 0) level = lastAt.length
    lastAt[level] = xs[i]!
    levels[i] = level
  }
  return levels
}

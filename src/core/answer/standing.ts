import type { ComparedGroup, ComparedPair, Comparison } from '../statistics/document.ts'

/** A comparison before it has its answer. */
export type Compared = Omit<Comparison, 'answer'>

/** How the measured variants stand to one another. */
export interface Standing {
  /** Best first; a variant never stands before one that beats it. */
  readonly order: readonly ComparedGroup[]
  /** Shown to be more, directly or by way of others. */
  beats(a: string, b: string): boolean
  /** Shown to be as good as each other. */
  alike(a: string, b: string): boolean
}

export const middleOf = ({ mean, meanAtLeast, median }: ComparedGroup): number | null =>
  mean ?? meanAtLeast ?? median

/** It was pulled, and counts as soon as somebody names the rig that makes its numbers forces. */
export const waitsForRig = ({ n, otherScale = [] }: ComparedGroup): boolean =>
  n === 0 && otherScale.length > 0

/** The order of the variants that have a value, from what was decided of each pair. */
export function standingOf({ groups, pairs, blocks }: Compared): Standing {
  const measured = groups.filter(group => group.n > 0)
  const won = new Map(measured.map(({ name }) => [name, new Set<string>()]))
  const equal = new Set<string>()
  // Groups that no block ties say nothing of one another.
  for (const pair of blocks?.tied === false ? [] : pairs) {
    const { verdict } = pair
    if (verdict === 'equivalent') equal.add(keyOf(pair.a, pair.b))
    if (verdict !== 'different') continue
    const [more, less] = firstIsMore(pair) ? [pair.a, pair.b] : [pair.b, pair.a]
    won.get(more)?.add(less)
  }
  const beats = (a: string, b: string): boolean => reaches(won, a, b) && !reaches(won, b, a)
  return {
    order: ordered(measured, beats),
    beats,
    alike: (a, b) => equal.has(keyOf(a, b)),
  }
}

const keyOf = (a: string, b: string): string => JSON.stringify([a, b].sort())

/** Where ranks decide, some only reached a bound, and means say nothing. */
const firstIsMore = (pair: ComparedPair): boolean =>
  pair.decidedBy === 'ranks' ? (pair.chance?.aBeatsB ?? 0.5) > 0.5 : (pair.difference ?? 0) > 0

function reaches(won: ReadonlyMap<string, ReadonlySet<string>>, from: string, to: string): boolean {
  const seen = new Set<string>([from])
  const open = [from]
  for (let at = open.pop(); at !== undefined; at = open.pop())
    for (const beaten of won.get(at) ?? []) {
      if (beaten === to) return true
      if (seen.has(beaten)) continue
      seen.add(beaten)
      open.push(beaten)
    }
  return false
}

function ordered(groups: readonly ComparedGroup[], beats: Standing['beats']): ComparedGroup[] {
  const left = [...groups]
  const order: ComparedGroup[] = []
  while (left.length > 0) {
    const free = left.filter(one => !left.some(other => beats(other.name, one.name)))
    const best = free.reduce((a, b) => ((middleOf(b) ?? -Infinity) > (middleOf(a) ?? -Infinity) ? b : a))
    order.push(best)
    left.splice(left.indexOf(best), 1)
  }
  return order
}

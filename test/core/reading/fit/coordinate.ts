/** Coordinate descent over named positive numbers: each in turn a little less and a little more, while it helps. */

export interface Trial {
  readonly name: string
  readonly from: number
  readonly to: number
  readonly before: number
  readonly after: number
}

export interface Search {
  /** Mean loss with the numbers as they stand. */
  readonly loss: () => number
  readonly get: (name: string) => number
  readonly set: (name: string, value: number) => void
  readonly names: readonly string[]
  readonly passes: number
  /** A number is tried at this many times and this part of itself. */
  readonly factor: number
  /** Less than this is no gain: it is the luck of the draw. */
  readonly worthIt: number
  /** Probabilities and shares stay below 1. */
  readonly most: (name: string) => number
}

/** Leaves the numbers at the best that was found, and tells every step that was taken. */
export function descend(search: Search): Trial[] {
  const taken: Trial[] = []
  let best = search.loss()
  for (let pass = 0; pass < search.passes; pass++) {
    const before = taken.length
    for (const name of search.names)
      for (const times of [search.factor, 1 / search.factor]) {
        const from = search.get(name)
        const to = from * times
        if (to >= search.most(name)) continue
        search.set(name, to)
        const loss = search.loss()
        if (loss < best - search.worthIt) {
          taken.push({ name, from, to, before: best, after: loss })
          best = loss
          break
        }
        search.set(name, from)
      }
    if (taken.length === before) break
  }
  return taken
}

/** Parts of the groups, each group whole in one of them: what is held out together was fitted without. */
export function foldsOf(groups: readonly string[], folds: number): string[][] {
  const all = [...new Set(groups)].sort()
  return Array.from({ length: Math.min(folds, all.length) }, (_, k) => all.filter((_g, i) => i % folds === k))
}

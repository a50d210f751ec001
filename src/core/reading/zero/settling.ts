import { reachOf } from '../../signal/scan.ts'
import type { Quiet } from '../quiet.ts'
import type { ZeroChain } from './zeroChain.ts'

/** The rests, and what fades on below the last of them: stretches at its level that are called neither rest nor load. */
export function withFading(levels: readonly Quiet[], { rests, marginN }: ZeroChain): readonly Quiet[] {
  const chosen = rests.map(k => levels[k]!)
  const last = chosen.at(-1)
  if (!last) return []
  const later = levels.slice(rests.at(-1)! + 1)
  const fades = later.every(q => q.levelN < last.levelN + marginN && q.levelN > last.levelN - 2 * marginN)
  return fades ? [...chosen, ...later] : chosen
}

/** A load that fades does so this many times faster in the first half of its rests than in the second. */
const FADES = 1.7

/** Whether the level falls faster in the first half of a run than in the second: a load that fades, no drift. */
function fades(run: readonly Quiet[]): boolean {
  if (run.length < 3) return false
  const [first, middle, last] = [run[0]!, run[run.length >> 1]!, run.at(-1)!]
  const pace = (a: Quiet, b: Quiet): number => (a.levelN - b.levelN) / (b.fromS + b.toS - a.fromS - a.toS)
  const early = pace(first, middle)
  return early > 0 && early > FADES * pace(middle, last) && pace(middle, last) > -0.2 * early
}

/** Rests in a row whose level fades towards the last of them are the end of an unloading: only the last is at rest. */
export function withoutSettling(
  rests: readonly Quiet[],
  forceN: Float64Array,
  loadedN: number,
): readonly Quiet[] {
  const out: Quiet[] = []
  for (let a = 0; a < rests.length; ) {
    let b = a + 1
    while (
      b < rests.length &&
      !reachesOver(forceN, rests[b - 1]!.to, rests[b]!.from, rests[b]!.levelN + loadedN)
    )
      b++
    const run = rests.slice(a, b)
    out.push(...(fades(run) ? run.slice(-1) : run))
    a = b
  }
  return out
}

export function reachesOver(forceN: Float64Array, from: number, to: number, levelN: number): boolean {
  return to > from && reachOf(forceN, from, to).high > levelN
}

import { bundle } from '../parts.ts'
import type { Random } from '../random.ts'
import type { PullSpec } from '../spec.ts'

/** How a kind of pull draws its rig, specimen and faults. */
export type Recipe = (random: Random) => PullSpec

/** A saw-tooth on an ordinary rig; the base of many kinds. */
export const sawTooth = (random: Random) => {
  const elements = random.whole(5, 14)
  const aboutN = random.between(30, 120)
  return { elements, aboutN, part: bundle(random, elements, aboutN) }
}

export const usualRate = (random: Random): number => random.pick([10, 20, 40, 80])

import type { Recording } from '../recording.ts'
import { median } from '../signal/order.ts'
import { nextStep } from '../signal/scan.ts'
import type { Glitch } from './types.ts'

/** A reading must stand so many noise sd or display steps beside its neighbours. */
const LEAST_NOISE = 8
const LEAST_STEPS = 5
/** Of an ordinary record, less than this share of its reach is what a specimen does. */
const SPAN_SHARE = 0.02
/**
 * Its neighbours on both sides agree within this share of its height, and scatter by less than this share.
 */
const AGREE = 0.35
const SCATTER = 0.25
/** In a record of a pull every neighbour must keep to this share: what rattles under load is no glitch. */
const SCATTER_UNDER_LOAD = 0.3
/** The seven readings that are looked at lie within so many periods. */
const MOST_PERIODS = 12
/**
 * A knock is a bell: the reading beside its top lies between these shares of the height, on the same side.
 */
const BELL = { from: 0.1, to: 0.75 }

interface Scale {
  readonly noiseN: number
  readonly stepN: number
  readonly spanN: number | null
}

const leastHeightN = ({ noiseN, stepN, spanN }: Scale): number =>
  Math.max(LEAST_NOISE * noiseN, LEAST_STEPS * stepN, SPAN_SHARE * (spanN ?? 0))

/**
 * Single wild readings: each stands far beside the three readings before and the three after, which agree
 * with each other. `spanN` is the reach of the force in a record under any load, `null` in one at rest. A
 * knock or a tap spans several readings and is none; a break leaves another level and is none.
 */
export function findGlitches(
  { timeS, forceN, segments }: Pick<Recording, 'timeS' | 'forceN' | 'segments'>,
  { noiseN, stepN, spanN, periodS }: Scale & { readonly periodS: number },
): Glitch[] {
  const least = leastHeightN({ noiseN, stepN, spanN })
  const found: Glitch[] = []
  for (const { from, to } of segments) {
    // Most readings are like the one before and the one after: they are passed over at once.
    const next = (i: number): number => Math.max(i, nextStep(forceN, i, to - 2, least, least) - 1)
    for (let i = next(from + 3); i < to - 3; i = next(i + 1)) {
      const value = forceN[i]!
      const before = middleOf(forceN[i - 3]!, forceN[i - 2]!, forceN[i - 1]!)
      const after = middleOf(forceN[i + 1]!, forceN[i + 2]!, forceN[i + 3]!)
      const up = value - before
      const height = Math.min(Math.abs(up), Math.abs(value - after))
      if (!(height > least) || up * (value - after) <= 0) continue
      // Over a hole the neighbours tell nothing of each other.
      if (timeS[i + 3]! - timeS[i - 3]! > MOST_PERIODS * periodS) continue
      if (Math.abs(before - after) > AGREE * height) continue
      const offs = [1, 2, 3].flatMap(k => [
        Math.abs(forceN[i - k]! - before),
        Math.abs(forceN[i + k]! - after),
      ])
      offs.sort((a, b) => a - b)
      if (offs[3]! > SCATTER * height) continue
      if (spanN !== null && offs[5]! > SCATTER_UNDER_LOAD * height) continue
      const beside = [(forceN[i - 1]! - before) / up, (forceN[i + 1]! - after) / up]
      if (beside.some(share => share > BELL.from && share < BELL.to)) continue
      found.push({
        index: i,
        gotN: value,
        levelN: (before + after) / 2,
        levelDoubtN: Math.abs(after - before) / 2,
      })
    }
  }
  return found
}

/** A wild reading at a level reads `slope · level + shiftN`, to within `withinN`. */
export interface WildPattern {
  readonly slope: number
  readonly shiftN: number
  readonly withinN: number
}

/** Whether a wild reading follows one of the patterns, as well as its level is known. */
export const isAlike = (
  { gotN, levelN, levelDoubtN }: Omit<Glitch, 'index'>,
  reads: readonly WildPattern[],
): boolean =>
  reads.some(r => Math.abs(gotN - r.slope * levelN - r.shiftN) <= r.withinN + r.slope * levelDoubtN)

/** Readings to either side from which the level is taken. */
const BESIDE = 4

/**
 * With those that read just what glitches of this check do, though they stand beside others, or on a steep
 * course: a pattern that is known needs less evidence.
 */
export function withAlike(
  forceN: Float64Array,
  found: readonly Glitch[],
  reads: readonly WildPattern[],
  scale: Scale,
): readonly Glitch[] {
  if (reads.length === 0) return found
  const least = leastHeightN(scale)
  const known = new Set(found.map(g => g.index))
  const more: Glitch[] = []
  for (let i = 0; i < forceN.length; i++) {
    const gotN = forceN[i]!
    const before = forceN[Math.max(0, i - 1)]!
    const after = forceN[Math.min(forceN.length - 1, i + 1)]!
    // Within a run of them one may be like both neighbours: the others of the run then say what it is.
    if (Math.abs(gotN - before) <= least && Math.abs(gotN - after) <= least && !known.has(i - 1)) continue
    if (known.has(i)) continue
    const beforeN = sideOf(forceN, i, -1, known)
    const afterN = sideOf(forceN, i, 1, known)
    const sides = [beforeN, afterN].filter(side => side.length > 0).map(levelOf)
    // What belongs to either side, or lies between both, a break or a steep course passes through.
    if (sides.some(s => Math.abs(gotN - s.levelN) <= least + SIDE_SPREADS * s.levelDoubtN)) continue
    if (sides.length === 0 || sides.some(s => (gotN - s.levelN) * (gotN - sides[0]!.levelN) <= 0)) continue
    // Beside a break it is a wild reading of one of the two levels.
    const reached = sides.map(s => ({ ...s, levelDoubtN: SIDE_SPREADS * s.levelDoubtN }))
    const levels = [levelOf([...beforeN, ...afterN]), ...reached]
    const level = levels.find(l => isAlike({ gotN, ...l }, reads))
    if (level === undefined) continue
    more.push({ index: i, gotN, ...level })
    known.add(i)
  }
  return more.length === 0 ? found : [...found, ...more].sort((a, b) => a.index - b.index)
}

/** A steep course goes on so many spreads of its readings. */
const SIDE_SPREADS = 3

/** The readings on one side that are not known to be wild. */
function sideOf(forceN: Float64Array, i: number, way: 1 | -1, known: ReadonlySet<number>): number[] {
  const side: number[] = []
  for (let k = 1; k <= BESIDE; k++) {
    const at = i + way * k
    if (at >= 0 && at < forceN.length && !known.has(at)) side.push(forceN[at]!)
  }
  return side
}

function levelOf(values: readonly number[]): Pick<Glitch, 'levelN' | 'levelDoubtN'> {
  const levelN = median(values)!
  return { levelN, levelDoubtN: median(values.map(v => Math.abs(v - levelN)))! }
}

const middleOf = (a: number, b: number, c: number): number =>
  Math.max(Math.min(a, b), Math.min(Math.max(a, b), c))

/** The series with each glitch replaced by what its neighbours say; the same array where there are none. */
export function withoutGlitches(forceN: Float64Array, glitches: readonly Glitch[]): Float64Array {
  if (glitches.length === 0) return forceN
  const clean = forceN.slice()
  for (const { index, levelN } of glitches) clean[index] = levelN
  return clean
}

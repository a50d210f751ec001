import type { Recording } from '../recording.ts'
import { roughNoise } from '../signal/noise.ts'
import { median } from '../signal/order.ts'
import { findPlateaus, type Plateau } from './plateaus.ts'

/** How a reading that should stand still creeps: of an empty rig its warm-up, under a hung mass its creep. */
export interface Settling {
  /** Mean level of each block, in the recording's unit. */
  readonly blocks: readonly { readonly atS: number; readonly level: number }[]
  /** From here on no block lies further than `within` from the last; `null` while it is still moving at the end. */
  readonly settledAtS: number | null
  readonly within: number
  /** Change from the first block to the last. */
  readonly change: number
  /** Change per minute over the last third. */
  readonly ratePerMinute: number
}

/** Blocks a recording is parted into, at most. */
const BLOCKS = 60

/**
 * Drift of a record at one load. `within` is what counts as settled, in the recording's unit; where not given, three
 * standard errors of a block or a hundredth of the whole change, whichever is more.
 */
export function settlingOf({ timeS, forceN, segments }: Recording, within?: number): Settling | null {
  const n = forceN.length
  const size = Math.max(5, Math.ceil(n / BLOCKS))
  const blocks: { atS: number; level: number }[] = []
  for (let from = 0; from + size <= n; from += size) {
    const level = median(forceN.subarray(from, from + size))
    if (level !== null) blocks.push({ atS: timeS[from + (size >> 1)]!, level })
  }
  const first = blocks[0]
  const last = blocks.at(-1)
  if (first === undefined || last === undefined || blocks.length < 6) return null
  const change = last.level - first.level
  const errorOfBlock = (1.25 * roughNoise(forceN, segments)) / Math.sqrt(size)
  const settledWithin = within ?? Math.max(3 * Math.SQRT2 * errorOfBlock, 0.01 * Math.abs(change))
  let settled = blocks.length - 1
  while (settled > 0 && Math.abs(blocks[settled - 1]!.level - last.level) <= settledWithin) settled--
  const tail = blocks.slice(-Math.max(3, Math.floor(blocks.length / 3)))
  return {
    blocks,
    // The last few blocks alone are no proof of rest.
    settledAtS: settled <= 0.75 * blocks.length ? blocks[settled]!.atS : null,
    within: settledWithin,
    change,
    ratePerMinute: (60 * (tail.at(-1)!.level - tail[0]!.level)) / (tail.at(-1)!.atS - tail[0]!.atS),
  }
}

/** Creep under a hung mass, as load cells are rated: change of the reading over the hold, in per cent of the load. */
export interface Creep {
  readonly loadedAtS: number
  readonly heldS: number
  readonly creepPct: number
  /** Zero after the mass was taken off less before, in per cent of the load; `null` where it was not recorded. */
  readonly zeroReturnPct: number | null
}

/** Seconds after loading from which creep is counted (the usual reading interval; common practice, no source). */
const AFTER_LOADING_S = 5

/** `null` where the recording does not begin empty and then carry one load for at least 30 s. */
export function creepOf(recording: Recording): Creep | null {
  const { timeS, forceN } = recording
  const stands = findPlateaus(recording)
  const jump = greatestJump(stands)
  const before = stands[jump]
  const first = stands[jump + 1]
  if (before === undefined || first === undefined) return null
  const levels = stands.map(s => s.level)
  const apart = Math.abs(first.level - before.level)
  // A mass is hung at once; a zero that warms up goes by small steps.
  if (apart < (Math.max(...levels) - Math.min(...levels)) / 2) return null
  const loaded = stands.slice(jump + 1).filter(s => Math.abs(s.level - first.level) < apart / 2)
  const lastLoaded = loaded.at(-1)!
  const startS = timeS[first.from]!
  const endS = timeS[lastLoaded.to - 1]!
  if (endS - startS < 30) return null
  const near = (fromS: number, toS: number) =>
    median(
      forceN.filter((_, i) => i >= first.from && i < lastLoaded.to && timeS[i]! >= fromS && timeS[i]! <= toS),
    )
  const early = near(startS + AFTER_LOADING_S, startS + 2 * AFTER_LOADING_S)
  const late = near(endS - AFTER_LOADING_S, endS)
  if (early === null || late === null) return null
  const load = early - before.level
  const after = stands
    .filter(s => s.from >= lastLoaded.to && Math.abs(s.level - before.level) < apart / 4)
    .at(-1)
  return {
    loadedAtS: startS,
    heldS: endS - startS,
    creepPct: (100 * (late - early)) / load,
    zeroReturnPct: after === undefined ? null : (100 * (after.level - before.level)) / load,
  }
}

/** Index of the stand before the greatest change from one to the next. */
function greatestJump(stands: readonly Plateau[]): number {
  let at = 0
  let most = 0
  for (let k = 0; k + 1 < stands.length; k++) {
    const change = Math.abs(stands[k + 1]!.level - stands[k]!.level)
    // Taking the mass off is as great a change as hanging it: the first counts.
    if (change > 1.05 * most) {
      most = change
      at = k
    }
  }
  return at
}

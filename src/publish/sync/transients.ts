import { quantileSorted } from '../../core/signal/order.ts'
import type { SoundEnvelope } from './soundEnvelope.ts'

/** A click, knock or crack in a sound. */
export interface Transient {
  /** Its onset, in seconds from the start of the clip. */
  readonly atS: number
  /** How far it stands above the noise around it, in dB. */
  readonly aboveDb: number
}

/** Below this a sound is silent: the noise floor of 16 bits. */
const SILENT = 1e-10
/** A transient stands at least so far above the noise around it, and above what came just before it. */
const ABOVE_DB = 9
const RISE_DB = 6
/** Of the levels' own spread, so that a lively background does not count as clicks. */
const SPREADS = 6
const BLOCK_S = 0.2
/** Blocks on either side that the noise floor is taken over. */
const FLOOR_BLOCKS = 6
/** What came before is looked at from 2 to 8 ms before: an onset may itself take that long. */
const BEFORE_S = { from: 0.002, to: 0.008 }
/** What follows within this time belongs to the same transient. */
const RINGS_S = 0.04
/** Of a very lively sound only the loudest are kept. */
export const MOST_TRANSIENTS = 6_000

/** The onsets in a sound: sudden rises of the band's energy above a robust noise floor, in order of time. */
export function findTransients({ energy, hopS }: SoundEnvelope): Transient[] {
  const levelDb = energy.map(e => 10 * Math.log10(e + SILENT))
  const floor = noiseFloor(levelDb, hopS)
  const ring = Math.max(1, Math.round(RINGS_S / hopS))
  const found: Transient[] = []
  let i = 1
  while (i < levelDb.length) {
    const above = levelDb[i]! - floor.levelDb(i)
    if (above < floor.thresholdDb(i) || levelDb[i]! < before(levelDb, i, hopS) + RISE_DB) {
      i++
      continue
    }
    let peakDb = levelDb[i]!
    for (let k = i; k < Math.min(levelDb.length, i + ring / 4); k++) peakDb = Math.max(peakDb, levelDb[k]!)
    found.push({ atS: (i + 0.5) * hopS, aboveDb: peakDb - floor.levelDb(i) })
    i += ring
  }
  if (found.length <= MOST_TRANSIENTS) return found
  const least = found.map(t => t.aboveDb).sort((a, b) => b - a)[MOST_TRANSIENTS - 1]!
  return found.filter(t => t.aboveDb >= least).slice(0, MOST_TRANSIENTS)
}

/** The greatest level just before a hop; that of silence before the sound begins. */
function before(levelDb: Float32Array, i: number, hopS: number): number {
  let most = 10 * Math.log10(SILENT)
  const until = i - Math.round(BEFORE_S.from / hopS)
  for (let k = Math.max(0, i - Math.round(BEFORE_S.to / hopS)); k <= until; k++)
    most = Math.max(most, levelDb[k]!)
  return most
}

interface Floor {
  levelDb(hop: number): number
  thresholdDb(hop: number): number
}

/** Medians over blocks of 0.2 s, and the median of those over the blocks around. */
function noiseFloor(levelDb: Float32Array, hopS: number): Floor {
  const size = Math.max(8, Math.round(BLOCK_S / hopS))
  const blocks = Math.max(1, Math.floor(levelDb.length / size))
  const middles = new Float64Array(blocks)
  const spreads = new Float64Array(blocks)
  for (let b = 0; b < blocks; b++) {
    const to = b === blocks - 1 ? levelDb.length : (b + 1) * size
    const sorted = levelDb.slice(b * size, to).sort()
    middles[b] = quantileSorted(sorted, 0.5) ?? 0
    // Of a normal distribution the upper quartile lies 0.6745 standard deviations above the middle.
    spreads[b] = ((quantileSorted(sorted, 0.75) ?? 0) - middles[b]!) / 0.6745
  }
  const around = (values: Float64Array): Float64Array =>
    values.map(
      (_, b) =>
        quantileSorted(values.slice(Math.max(0, b - FLOOR_BLOCKS), b + FLOOR_BLOCKS + 1).sort(), 0.5) ?? 0,
    )
  // What is still as loud in the next block is a noise that sets in (as after a silence), not a click.
  const floors = around(middles).map((floor, b) => Math.max(floor, middles[Math.min(b + 1, blocks - 1)]!))
  const thresholds = around(spreads).map(spread => Math.max(ABOVE_DB, SPREADS * spread))
  const block = (hop: number): number => Math.min(blocks - 1, Math.floor(hop / size))
  return { levelDb: hop => floors[block(hop)]!, thresholdDb: hop => thresholds[block(hop)]! }
}

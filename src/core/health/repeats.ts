import type { Segment } from '../recording.ts'

/** Readings of one record that are the one before once more. */
export interface Repeats {
  /** Pairs of neighbours, those that are equal, and how many of these noise and display step make. */
  readonly pairs: number
  readonly equal: number
  readonly byChance: number
  /** Where nearly every reading comes so many times: the number; else `null`. */
  readonly each: number | null
  /** First reading of each run that was taken for repeats, at most 200. */
  readonly at: readonly number[]
}

/** A value that stood still although the noise went on. */
export interface Stuck {
  readonly from: number
  /** One past the last. */
  readonly to: number
}

/** Runs of one and the same reading: first and one past the last. */
export function equalRuns(
  forceN: Float64Array,
  segments: readonly Segment[],
): { from: number; to: number }[] {
  const runs: { from: number; to: number }[] = []
  for (const segment of segments) {
    let from = segment.from
    for (let i = segment.from + 1; i <= segment.to; i++) {
      if (i < segment.to && forceN[i] === forceN[from]) continue
      runs.push({ from, to: i })
      from = i
    }
  }
  return runs
}

/**
 * Chance that two readings fall on one display step when only noise parts them: Σ p², for a normal
 * distribution rounded to steps, whose least value is step/(2σ√π) where the noise is more than a step.
 */
export function chanceEqual(noiseN: number, stepN: number): number {
  if (stepN <= 0) return 0
  const ratio = noiseN / stepN
  if (ratio < 0.3) return 1
  return Math.min(1, 1 / (2 * ratio * Math.sqrt(Math.PI)))
}

/** Beyond this chance of equal neighbours the display is too coarse to tell. */
const TOO_COARSE = 0.7
const LEAST_SHARE = 0.003
/** Fewer changes than this tell nothing of how often a reading comes. */
const LEAST_RUNS = 10
const CERTAIN = 5
/**
 * Variance of equal neighbours less those expected, over the latter: their own, and that of the expectation
 * (simulated).
 */
const VARIANCE = 1.25

/**
 * Equal neighbours that noise and display step make, whatever the noise is like: changes of one step and of
 * two tell how many of none there are. For a normal distribution ln c₀ − ln c₁ is a third of ln c₁ − ln c₂.
 */
function equalByChance(forceN: Float64Array, stepN: number): number {
  let ones = 0
  let twos = 0
  for (let i = 1; i < forceN.length; i++) {
    const steps = Math.round(Math.abs(forceN[i]! - forceN[i - 1]!) / stepN)
    if (steps === 1) ones++
    else if (steps === 2) twos++
  }
  return (ones / 2) * Math.cbrt(ones / Math.max(1, Math.min(ones, twos)))
}

/**
 * Equal neighbours of a record, and those that noise and display step make; `null` where that cannot be
 * told.
 */
export function findRepeats(
  forceN: Float64Array,
  runs: readonly { from: number; to: number }[],
  stuck: readonly Stuck[],
  { noiseN, stepN }: { noiseN: number; stepN: number },
): Repeats | null {
  const isStuck = new Set(stuck.map(s => s.from))
  const own = runs.filter(r => !isStuck.has(r.from))
  const readings = own.reduce((n, r) => n + r.to - r.from, 0)
  if (readings < 50) return null
  const lengths = own.map(r => r.to - r.from).sort((a, b) => a - b)
  const usual = lengths[lengths.length >> 1]!
  const chance = chanceEqual(noiseN, stepN)
  if (chance > TOO_COARSE || own.length < LEAST_RUNS) return null
  const regular = lengths.filter(l => l === usual || l === usual + 1).length
  if (usual >= 2 && regular > 0.6 * lengths.length) {
    // A value held for n readings and the same one again by chance make 2n: the mean of the usual ones
    // counts.
    const near = lengths.filter(l => Math.abs(l - usual) <= 1)
    const each = near.reduce((n, l) => n + l, 0) / near.length
    return {
      pairs: readings - 1,
      equal: readings - own.length,
      byChance: 0,
      each,
      at: own.slice(0, 200).map(r => r.from),
    }
  }
  return {
    pairs: readings - 1,
    equal: readings - own.length,
    byChance: stepN > 0 ? equalByChance(forceN, stepN) : 0,
    each: null,
    at: own
      .filter(r => r.to - r.from > 1)
      .slice(0, 200)
      .map(r => r.from),
  }
}

/** How many more equal neighbours than chance makes tell repeats. */
export const leastRepeats = (byChance: number): number => CERTAIN * Math.sqrt(VARIANCE * byChance + 1) + 2

/**
 * Share of the readings that were sent again, over all records together; `null` where chance may make as
 * many.
 */
export function repeatedShare(all: readonly Repeats[]): number | null {
  const sum = (of: (r: Repeats) => number): number => all.reduce((n, r) => n + of(r), 0)
  const byChance = sum(r => r.byChance)
  // What chance makes comes from the steps of the fresh readings alone, so that no repeat is in it.
  const again = sum(r => r.equal) - byChance
  const share =
    again /
    Math.max(
      1,
      sum(r => r.pairs),
    )
  return again > leastRepeats(byChance) && share >= LEAST_SHARE ? share : null
}

/** A run is stuck when noise and display step make one so long less often than this in the whole record. */
const BY_CHANCE = 1e-6
const LEAST_STUCK = 6

/**
 * Runs that stood still longer than chance and the usual repeats allow. `equalShare` is how often two
 * neighbours are equal in this record.
 */
export function findStuck(
  runs: readonly { from: number; to: number }[],
  { noiseN, stepN }: { noiseN: number; stepN: number },
): Stuck[] {
  const readings = runs.reduce((n, r) => n + r.to - r.from, 0)
  const lengths = runs.map(r => r.to - r.from).sort((a, b) => a - b)
  const usual = lengths[lengths.length >> 1] ?? 1
  const chance = Math.max(
    chanceEqual(noiseN, stepN),
    (lengths.filter(l => l > 1).length + 1) / (lengths.length + 1),
  )
  if (chanceEqual(noiseN, stepN) > TOO_COARSE) return []
  const share = Math.min(0.95, usual > 1 ? chanceEqual(noiseN, stepN) : chance)
  const byChance = share > 0 ? Math.log(BY_CHANCE / Math.max(1, readings)) / Math.log(share) : 0
  const least = usual * Math.max(LEAST_STUCK, Math.ceil(byChance) + 1)
  return runs.filter(r => r.to - r.from >= least)
}

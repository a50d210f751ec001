import { reachOf, sumOf } from '../../signal/scan.ts'
import { type Quiet, quietOver } from '../quiet.ts'
import type { LowBlock } from './chainCosts.ts'
import type { ZeroInput } from './epoch.ts'

/** A rest that ends a record is sure when it lasts this long. */
export const BRIEF_S = 1

/** No more stretches are weighed against each other: the longest, and those at either end. */
const MAX_STRETCHES = 48

export function longest(levels: readonly Quiet[]): readonly Quiet[] {
  if (levels.length <= MAX_STRETCHES) return levels
  const inner = levels.slice(1, -1).sort((a, b) => b.toS - b.fromS - (a.toS - a.fromS))
  return [levels[0]!, ...inner.slice(0, MAX_STRETCHES - 2), levels.at(-1)!].sort((a, b) => a.from - b.from)
}

/** A few samples that stand still at an end of the record: too brief for a quiet stretch. */
const MAX_BRIEF = 12

/**
 * With the few samples that stand still after the greatest fall, to the end of the record, and those that stand still
 * before the first loading.
 */
export function withBriefEnds(
  levels: readonly Quiet[],
  from: number,
  to: number,
  { timeS, forceN, signal: { noiseN, quantumN } }: ZeroInput,
): readonly Quiet[] {
  const { low, high } = reachOf(forceN, from, to)
  const flat = Math.max(6 * noiseN, 2.2 * quantumN, 0.004 * (high - low))
  const away = 0.03 * (high - low)
  const out = [...levels]
  let b = from + 1
  while (b < to && b - from < MAX_BRIEF && Math.abs(forceN[b]! - forceN[from]!) <= flat) b++
  const rises = reachOf(forceN, b, Math.min(to, b + 6)).high > forceN[b - 1]! + away
  if (b - from >= 3 && b - from < MAX_BRIEF && rises && !levels.some(q => q.from < b))
    out.unshift(...restGiven(timeS, forceN, from, b, timeS[from]!, timeS[b - 1]!))
  let a = to - 1
  while (a > from && to - a < MAX_BRIEF && Math.abs(forceN[a - 1]! - forceN[to - 1]!) <= flat) a--
  const fell = reachOf(forceN, Math.max(from, a - 6), a).high > forceN[a]! + away
  if (to - a >= 2 && to - a < MAX_BRIEF && fell && !levels.some(q => q.to > a))
    out.push(...restGiven(timeS, forceN, a, to, timeS[a]!, timeS[to - 1]!))
  return out
}

/** A stretch that creeps farther than `mostN` is several, each as still as can be. */
export function stillParts(
  timeS: Float64Array,
  forceN: Float64Array,
  q: Quiet,
  signal: ZeroInput['signal'],
  mostN: number,
): readonly Quiet[] {
  const middle = (q.from + q.to) >> 1
  const moved = Math.abs(q.slopeNPerS) * (q.toS - q.fromS)
  if (q.swingN !== undefined || moved <= Math.max(mostN, 4 * signal.noiseN, 2 * signal.quantumN)) return [q]
  if (q.to - q.from < 2 * LEAST_PART || q.toS - q.fromS < 2 * BRIEF_S) return [q]
  return [
    ...stillParts(timeS, forceN, quietOver(timeS, forceN, q.from, middle, signal.noiseN), signal, mostN),
    ...stillParts(timeS, forceN, quietOver(timeS, forceN, middle, q.to, signal.noiseN), signal, mostN),
  ]
}

/** Samples in the shortest part of a stretch. */
const LEAST_PART = 8

/** Blocks of this length, or fewer of them in a long record. */
const BLOCK_S = 0.15
const MAX_BLOCKS = 1500

/** Means of the readings over short blocks outside the quiet stretches. */
export function lowBlocks(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  levels: readonly Quiet[],
  periodS: number,
): LowBlock[] {
  const size = Math.max(1, Math.round(BLOCK_S / Math.max(periodS, 1e-9)), Math.ceil((to - from) / MAX_BLOCKS))
  const blocks: LowBlock[] = []
  let at = 0
  for (let a = from; a < to; a += size) {
    const b = Math.min(to, a + size)
    while (at < levels.length && levels[at]!.to <= a) at++
    const q = levels[at]
    if (q && q.from < b && q.to > a) continue
    blocks.push({
      atS: (timeS[a]! + timeS[b - 1]!) / 2,
      levelN: sumOf(forceN, a, b) / (b - a),
      lastsS: timeS[b - 1]! - timeS[a]! + Math.min(periodS, 1),
    })
  }
  return blocks
}

/**
 * A lower level that is left again for the very level that was there before is a push on the grips, not a lower zero:
 * where it is short beside its neighbours, or lasts shorter than the other level does in all and a greater pull tells
 * that level from a load that was taken off and put on again.
 */
export function withoutPushes(
  quiets: readonly Quiet[],
  highN: number,
  { noiseN, quantumN }: ZeroInput['signal'],
): readonly Quiet[] {
  const same = Math.max(5 * noiseN, 2.5 * quantumN)
  const lasted = (q: Quiet): number => q.toS - q.fromS
  return quiets.filter((q, k) => {
    const before = quiets[k - 1]
    const after = quiets[k + 1]
    if (!before || !after || q.levelN >= before.levelN - same) return true
    if (Math.abs(before.levelN - after.levelN) > same) return true
    if (lasted(q) < 0.5 * Math.min(lasted(before), lasted(after))) return false
    const longer = quiets.reduce(
      (sum, r) => sum + (Math.abs(r.levelN - before.levelN) <= same ? lasted(r) : 0),
      0,
    )
    return !(lasted(q) < longer && highN - before.levelN > before.levelN - q.levelN)
  })
}

export function restGiven(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  fromS: number,
  toS: number,
): Quiet[] {
  let a = from
  while (a < to && timeS[a]! < fromS) a++
  let b = a
  let sum = 0
  let squares = 0
  for (; b < to && timeS[b]! <= toS; b++) {
    sum += forceN[b]!
    squares += forceN[b]! ** 2
  }
  const n = b - a
  if (n === 0) return []
  const level = sum / n
  return [
    {
      from: a,
      to: b,
      fromS: timeS[a]!,
      toS: timeS[b - 1]!,
      levelN: level,
      slopeNPerS: 0,
      slopeStandardN: 0,
      noiseN: Math.sqrt(Math.max(0, squares / n - level * level)),
    },
  ]
}

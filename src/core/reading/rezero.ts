import type { Segment } from '../recording.ts'
import { nextStep, reachOf, sumOf } from '../signal/scan.ts'
import type { Signal } from '../signal/summary.ts'
import type { Quiet } from './quiet.ts'

/** The indicator's zero set again: the reading jumps to 0 while the load stays. */
export interface Rezero {
  /** First sample with the new zero. */
  readonly index: number
  readonly atS: number
  /** Readings before and after. */
  readonly beforeN: number
  readonly afterN: number
}

const FLAT_S = 0.2
const LEAST_FLAT = 3

/**
 * Steps of one sample onto 0 with a level reading before and after.
 *
 * Upwards nothing else does that: a hand cannot load a specimen between two samples and stop dead on zero.
 * Downwards a break can, so a second witness is asked for: a later rest as far below zero as the tension that was
 * held, or a first rest that stood off zero for 1.5 s or more with nothing below it afterwards.
 */
export function findRezeros(
  timeS: Float64Array,
  forceN: Float64Array,
  segments: readonly Segment[],
  signal: Pick<Signal, 'periodS' | 'noiseN' | 'quantumN'>,
  quiets: readonly Quiet[],
): Rezero[] {
  const { periodS, noiseN, quantumN } = signal
  const least = Math.max(8 * noiseN, 5 * quantumN)
  const under = 0.999 * least
  const onZero = Math.max(1.6 * quantumN, 4 * noiseN)
  const flatness = Math.max(6 * noiseN, 2.2 * quantumN)
  const need = Math.max(LEAST_FLAT, periodS > 0 ? Math.ceil(FLAT_S / periodS) : LEAST_FLAT)
  const found: Rezero[] = []
  if (least === 0) return found
  for (const { from, to } of segments) {
    const next = (i: number): number => nextStep(forceN, i, to - LEAST_FLAT + 1, under, under)
    for (let i = next(from + LEAST_FLAT); i + LEAST_FLAT <= to; i = next(i + 1)) {
      const jump = forceN[i]! - forceN[i - 1]!
      if (jump < least && jump > -least) continue
      if (Math.abs(forceN[i]!) > onZero) continue
      if (range(forceN, Math.max(from, i - need), i) > flatness) continue
      if (range(forceN, i, Math.min(to, i + need)) > flatness) continue
      const beforeN = mean(forceN, Math.max(from, i - need), i)
      const afterN = mean(forceN, i, Math.min(to, i + need))
      const since = found.at(-1)?.index ?? from
      if (jump > 0 && isRelease(forceN, from, i, beforeN, afterN, flatness)) continue
      if (jump < 0 && !secondWitness(quiets, since, i, to, beforeN, least)) continue
      found.push({ index: i, atS: timeS[i]!, beforeN, afterN })
    }
  }
  return found
}

/** A push on the grips that is let go: the reading springs back to where it was before the push. */
function isRelease(
  forceN: Float64Array,
  from: number,
  at: number,
  beforeN: number,
  afterN: number,
  flatness: number,
): boolean {
  let a = at
  while (a > from && Math.abs(forceN[a - 1]! - beforeN) <= flatness) a--
  return a - from >= LEAST_FLAT && Math.abs(mean(forceN, a - LEAST_FLAT, a) - afterN) <= flatness / 2
}

function secondWitness(
  quiets: readonly Quiet[],
  since: number,
  at: number,
  end: number,
  beforeN: number,
  least: number,
): boolean {
  const earlier = quiets.filter(q => q.from >= since && q.to <= at)
  const later = quiets.filter(q => q.from >= at && q.to <= end)
  if (earlier.length === 0 || later.length === 0) return false
  const zeroBefore = Math.min(...earlier.map(q => q.levelN))
  const lowestLater = Math.min(...later.map(q => q.levelN))
  const held = beforeN - zeroBefore
  if (held > least) return Math.abs(lowestLater + held) < 0.15 * held + least
  const first = earlier[0]!
  const stoodOff = earlier.length === 1 && first.toS - first.fromS >= 1.5
  return stoodOff && lowestLater > -least
}

function range(values: Float64Array, from: number, to: number): number {
  const { low, high } = reachOf(values, from, to)
  return high - low
}

function mean(values: Float64Array, from: number, to: number): number {
  return sumOf(values, from, to) / (to - from)
}

import type { Segment } from '../recording.ts'
import { nextStep } from './scan.ts'

export interface Spike {
  readonly index: number
  readonly atS: number
}

export interface SpikeOptions {
  readonly noiseN: number
  readonly quantumN: number
  readonly periodS: number
}

/**
 * Glitches of one sample: the reading leaves and comes back at once, faster than the rig can load.
 *
 * Force falls at once when something breaks, but it rises only as fast as the drive turns. A sample that stands out
 * from both neighbours is a glitch when the rise in it (before a glitch upwards, after one downwards) is more than
 * 2.5 times the third-fastest rise of the record outside such samples, and its neighbours agree with each other.
 */
export function findSpikes(
  timeS: Float64Array,
  forceN: Float64Array,
  segments: readonly Segment[],
  { noiseN, quantumN, periodS }: SpikeOptions,
): Spike[] {
  const least = Math.max(10 * noiseN, 6 * quantumN)
  const candidates: number[] = []
  const top = [0, 0, 0]
  for (const { from, to } of segments) {
    const next = (i: number): number => nextStep(forceN, i, to, top[2]!, least)
    for (let i = next(from + 1); i < to; i = next(i + 1)) {
      const step = forceN[i]! - forceN[i - 1]!
      if (standsOut(forceN, i, from, to, least)) candidates.push(i)
      else if (
        step > top[2]! &&
        timeS[i]! - timeS[i - 1]! < 1.75 * periodS &&
        !standsOut(forceN, i - 1, from, to, least)
      ) {
        top[2] = step
        top.sort((a, b) => b - a)
      }
    }
  }
  const fastestRise = top[2]!
  return candidates
    .filter(i => riseAt(forceN, i) > 2.5 * fastestRise + least)
    .map(index => ({ index, atS: timeS[index]! }))
}

function standsOut(forceN: Float64Array, i: number, from: number, to: number, least: number): boolean {
  if (i <= from || i >= to - 1) return false
  const before = forceN[i]! - forceN[i - 1]!
  const after = forceN[i + 1]! - forceN[i]!
  if (before * after >= 0) return false
  const height = Math.min(Math.abs(before), Math.abs(after))
  return height > least && Math.abs(forceN[i + 1]! - forceN[i - 1]!) < 0.35 * height
}

const riseAt = (forceN: Float64Array, i: number): number =>
  Math.max(forceN[i]! - forceN[i - 1]!, forceN[i + 1]! - forceN[i]!)

/** The series with each glitch replaced by the mean of its neighbours; the same array where there are none. */
export function withoutSpikes(forceN: Float64Array, spikes: readonly Spike[]): Float64Array {
  if (spikes.length === 0) return forceN
  const clean = forceN.slice()
  for (const { index } of spikes) clean[index] = (forceN[index - 1]! + forceN[index + 1]!) / 2
  return clean
}

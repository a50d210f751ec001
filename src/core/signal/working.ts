import type { Segment } from '../recording.ts'

/** The series that meaning is read from: the recording itself, or block means of a faster one. */
export interface Working {
  readonly timeS: Float64Array
  readonly forceN: Float64Array
  readonly segments: readonly Segment[]
  /** Samples of the recording in one of the series. */
  readonly block: number
}

/** Nothing that a bench rig does needs more readings than this; above twice it, blocks are averaged. */
const ENOUGH_HZ = 250
/** A rate is known to about this share: 999.9 readings a second are a thousand. */
const RATE_SHARE = 0.01

/**
 * Block means of a fast recording, so that 250 to 500 readings a second remain. A block never spans a gap or two
 * segments. What a break leaves in a mean is the same as what a converter that averages leaves in a reading, so the
 * peak between readings is found again by the same geometry.
 */
export function workingSeries(
  timeS: Float64Array,
  forceN: Float64Array,
  segments: readonly Segment[],
  rateHz: number,
  gapAfter: readonly number[],
): Working {
  const block = Math.floor((rateHz * (1 + RATE_SHARE)) / ENOUGH_HZ)
  if (block < 2) return { timeS, forceN, segments, block: 1 }
  const most = Math.ceil(timeS.length / block) + segments.length + gapAfter.length
  const times = new Float64Array(most)
  const forces = new Float64Array(most)
  const parts: Segment[] = []
  let n = 0
  let g = 0
  for (const segment of segments) {
    const from = n
    let a = segment.from
    while (a < segment.to) {
      while (g < gapAfter.length && gapAfter[g]! < a) g++
      const end = Math.min(segment.to, (gapAfter[g] ?? segment.to) + 1)
      const whole = Math.floor((end - a) / block)
      for (let k = 0; k < whole; k += AT_ONCE)
        takeMeans(timeS, forceN, a + k * block, block, times, forces, n + k, Math.min(AT_ONCE, whole - k))
      n += whole
      a += whole * block
      if (a === end) continue
      // A stump of a block at the end of a run of samples is left out, unless it is all there is.
      if (a === segment.from) takeMeans(timeS, forceN, a, end - a, times, forces, n++, 1)
      a = end
    }
    parts.push({ ...segment, from, to: n })
  }
  return { timeS: times.subarray(0, n), forceN: forces.subarray(0, n), segments: parts, block }
}

/** Blocks that one call goes through: see scan.ts for why a long way is gone in short ones. */
const AT_ONCE = 2048

/** Puts the middle times and mean forces of `count` blocks from sample `from` on into `times` and `forces`, at `at`. */
function takeMeans(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  block: number,
  times: Float64Array,
  forces: Float64Array,
  at: number,
  count: number,
): void {
  let a = from
  for (let n = at; n < at + count; n++) {
    const b = a + block
    let f = 0
    for (let i = a; i < b; i++) f += forceN[i]!
    times[n] = (timeS[a]! + timeS[b - 1]!) / 2
    forces[n] = f / block
    a = b
  }
}

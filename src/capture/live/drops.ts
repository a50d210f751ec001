import type { LiveEvent } from '../types.ts'

/** Samples looked back over, at most. */
const KEPT = 64
/** A fall must come within so many samples, or within so long: a converter spreads a break over a few of its outputs. */
const FALL_SAMPLES = 3
const FALL_S = 0.02
/** The kind is told after so many samples at most. */
const EVIDENCE_SAMPLES = 5
/** Least fall: against noise, against the display step, as a share of the force before. */
const NOISES = 8
const QUANTA = 3
const SHARE = 0.012
/** A fall must be so much faster than the force went before. */
const FASTER = 4

export interface DropInput {
  readonly atS: number
  /** As indicated: a zero that is set anew must not look like a fall. */
  readonly forceN: number
  readonly zeroN: number
  readonly noiseN: number
  readonly quantumN: number
  /** Indicated force under which the specimen carries nothing. */
  readonly freeBelowN: number
}

/** A fall in hand, from the sample that showed it to the one that settles its kind. */
interface OpenDrop {
  readonly id: number
  readonly beforeS: number
  readonly beforeN: number
  readonly rampNPerS: number
  /** Noise of a slope over as many samples as the evidence has. */
  readonly rampDoubt: number
  readonly thresholdN: number
  readonly firstAfterN: number
  lowestN: number
  /** Samples since the fall was first told, and where in the ring its lowest stands. */
  seen: number
  lowestAt: number
  lastN: number
}

/**
 * Falls of force as they come, one sample at a time: told at the first sample that shows one, and told again under the
 * same id when its kind is known, at most five samples later.
 *
 * A fall is a drop of more than the noise, the display step, 1.2 % of the force and what the ramp before explains.
 * What is left when it is over tells the rest: nothing is a break; still falling at an even pace is an unload; back where
 * it was is a glitch (`none`); a rise at the old stiffness is a slip, at less stiffness a partial break. Where five
 * samples cannot tell the last two apart the commoner is named, with little confidence: the batch reading decides later.
 */
export function watchDrops(nextId: () => number): (input: DropInput) => LiveEvent | null {
  const timeS = new Float64Array(KEPT)
  const forceN = new Float64Array(KEPT)
  let count = 0
  /** First sample that may count as "before" a new fall. */
  let fromSample = 0
  let zeroN = 0
  let open: OpenDrop | null = null
  let last: { drop: OpenDrop; atSample: number } | null = null

  const force = (sample: number): number => forceN[sample % KEPT]!
  const time = (sample: number): number => timeS[sample % KEPT]!

  /** Slope of the least-squares line through samples `from` to `to`, both included; 0 for fewer than two. */
  const slope = (from: number, to: number): number => {
    const n = to - from + 1
    if (n < 2) return 0
    const t0 = time(from)
    let st = 0
    let sf = 0
    let stt = 0
    let stf = 0
    for (let i = from; i <= to; i++) {
      const t = time(i) - t0
      const f = force(i)
      st += t
      sf += f
      stt += t * t
      stf += t * f
    }
    const spread = n * stt - st * st
    return spread > 0 ? (n * stf - st * sf) / spread : 0
  }

  const tell = (
    drop: OpenDrop,
    kind: LiveEvent['kind'],
    settled: boolean,
    confidence: number,
  ): LiveEvent => ({
    id: drop.id,
    kind,
    settled,
    atS: drop.beforeS,
    beforeN: drop.beforeN - zeroN,
    afterN: drop.lowestN - zeroN,
    dropN: drop.beforeN - drop.lowestN,
    confidence,
  })

  const settle = (drop: OpenDrop, sample: number, kind: LiveEvent['kind'], confidence: number): LiveEvent => {
    open = null
    last = kind === 'none' ? null : { drop, atSample: sample }
    fromSample = kind === 'none' ? sample : drop.lowestAt
    return tell(drop, kind, true, confidence)
  }

  /** The next sample of a fall in hand. */
  const follow = (drop: OpenDrop, input: DropInput, sample: number): LiveEvent | null => {
    const { forceN: now, freeBelowN } = input
    const fellN = drop.lastN - now
    const wasLastN = drop.lastN
    drop.seen++
    drop.lastN = now
    if (now < drop.lowestN) {
      drop.lowestN = now
      drop.lowestAt = sample
    }
    const dropN = drop.beforeN - drop.lowestN
    if (now > drop.beforeN - 0.3 * dropN) return settle(drop, sample, 'none', 0.9)
    const ended = fellN < 0.15 * (drop.beforeN - drop.firstAfterN)
    if (now < freeBelowN && wasLastN < freeBelowN && ended) return settle(drop, sample, 'break', 0.95)
    if (drop.seen < EVIDENCE_SAMPLES) return null
    if (drop.lowestN < freeBelowN) return settle(drop, sample, 'break', 0.8)
    if (!ended) return settle(drop, sample, 'unload', 0.5)
    return settle(drop, sample, ...slipOrBreak(drop, sample, dropN, input.noiseN))
  }

  /** Parallel parts lose stiffness with each that goes; a grip that slips does not change the stiffness. */
  const slipOrBreak = (
    drop: OpenDrop,
    sample: number,
    dropN: number,
    noiseN: number,
  ): ['slip' | 'partial-break', number] => {
    const share = dropN / (drop.beforeN - zeroN)
    const from = drop.lowestAt
    const n = sample - from + 1
    if (n < 3 || drop.rampNPerS <= 0 || share < 0.02) return ['partial-break', 0.5]
    const periodS = (time(sample) - time(from)) / (n - 1)
    const doubt = (noiseN / periodS) * Math.sqrt(12 / (n * (n * n - 1)))
    const left = slope(from, sample) / drop.rampNPerS
    const leftDoubt = Math.hypot(doubt, drop.rampDoubt) / drop.rampNPerS
    // Halfway between no loss of stiffness and a loss in proportion to the force that was lost.
    const towardsSlip = (left - (1 - share / 2)) / Math.max(leftDoubt, 0.02)
    if (towardsSlip > 2) return ['slip', Math.min(0.9, 0.5 + towardsSlip / 10)]
    return ['partial-break', Math.min(0.9, 0.5 + Math.max(0, -towardsSlip) / 10)]
  }

  /** Looks for a fall that ends at this sample. */
  const look = (input: DropInput, sample: number): LiveEvent | null => {
    const { atS, forceN: now, noiseN, quantumN, freeBelowN } = input
    let from = sample - 1
    while (
      from > fromSample &&
      sample - from < KEPT - 1 &&
      (sample - from < FALL_SAMPLES || atS - time(from - 1) <= FALL_S)
    )
      from--
    from = Math.max(from, fromSample, 0)
    if (from >= sample) return null
    // The second greatest, so that one sample that jumps up alone is no "before".
    let top = from
    for (let i = from; i < sample; i++) if (force(i) > force(top)) top = i
    let second = -1
    for (let i = from; i < sample; i++) if (i !== top && (second < 0 || force(i) > force(second))) second = i
    const before = second < 0 ? top : second
    const beforeN = force(before)
    const fellN = beforeN - now
    if (!(beforeN > freeBelowN)) return null
    const rampFrom = Math.max(fromSample, 0, sample - KEPT + 2, before - 24)
    const rampNPerS = slope(rampFrom, before)
    const leastN = Math.max(NOISES * noiseN, QUANTA * quantumN, SHARE * (beforeN - zeroN))
    if (fellN < leastN || fellN < FASTER * Math.abs(rampNPerS) * (atS - time(before))) return null
    const n = before - rampFrom + 1
    const periodS = n > 1 ? (time(before) - time(rampFrom)) / (n - 1) : 1
    // A fall that goes on just after its kind was told is the same fall.
    const same = last !== null && sample - last.atSample <= FALL_SAMPLES && before >= last.drop.lowestAt - 1
    const first = same ? last!.drop : null
    open = {
      id: first?.id ?? nextId(),
      beforeS: first?.beforeS ?? time(before),
      beforeN: first?.beforeN ?? beforeN,
      rampNPerS: first?.rampNPerS ?? rampNPerS,
      rampDoubt: first?.rampDoubt ?? (n > 2 ? (noiseN / periodS) * Math.sqrt(12 / (n * (n * n - 1))) : 0),
      thresholdN: leastN,
      firstAfterN: now,
      lowestN: Math.min(now, first?.lowestN ?? now),
      seen: 0,
      lowestAt: sample,
      lastN: now,
    }
    return tell(open, 'drop', false, 0.5)
  }

  return input => {
    const sample = count++
    timeS[sample % KEPT] = input.atS
    forceN[sample % KEPT] = input.forceN
    zeroN = input.zeroN
    return open ? follow(open, input, sample) : look(input, sample)
  }
}

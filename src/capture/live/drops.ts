import type { LiveEvent } from '../types.ts'
import { keepRing, slope, slopeDoubt } from './slopes.ts'

/**
 * A fall must come within so many samples, or within so long: a converter spreads a break over a few of its
 * outputs.
 */
const FALL_SAMPLES = 3
const FALL_S = 0.02
/** The kind is told after so many samples at most. */
const EVIDENCE_SAMPLES = 5
/** Least fall: against noise, against the display step, as a share of the force before. */
const NOISES = 8
const QUANTA = 3
const SHARE = 0.012
/** A fall must be so much faster than the force went before. */
const FASTER = 2.5
/** Samples by which the ramp before a fall is judged. */
const RAMP_SAMPLES = 24
/** An unload falls by even steps: none makes up more than this share of the fall. */
const EVEN_SHARE = 0.45
/**
 * No hand takes a load off faster; a converter that averages may spread a break over even steps, but not so
 * long.
 */
const UNLOAD_S = 0.25
/** A step so much greater than those of the fall before is a fall of its own. */
const ABRUPT = 3
/** A specimen must have been loaded for so long: a knock or a hand on the grip is shorter. */
const LOADED_S = 0.4
/** A hand does not turn more evenly than this. */
const PACE_DOUBT = 0.08

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
interface Fall {
  readonly id: number
  readonly beforeS: number
  readonly beforeN: number
  readonly rampNPerS: number
  readonly rampDoubt: number
  lowestN: number
  lowestAt: number
  /** Steps down so far, the greatest of them, and the last sample. */
  steps: number
  greatestStepN: number
  lastN: number
  /** Samples since it was told. */
  seen: number
  /** A sample that did not fall any more has come. */
  ended: boolean
}

const NOTHING: readonly LiveEvent[] = []

/**
 * Falls of force as they come, one sample at a time: told at the first sample that shows one, and told again
 * under the same id when its kind is known, at most five samples later.
 *
 * A fall is a drop of more than the noise, the display step, 1.2 % of the force and what the pace before
 * explains. What is left when it is over tells the rest: nothing, reached by steps, is a break; a fall by
 * many even steps is an unload; back where it was is a glitch (`none`); a rise at the old stiffness is a
 * slip, at less stiffness a partial break. Where five samples cannot tell the last two apart the commoner is
 * named, with little confidence: the batch reading decides later. A fall that goes on after its kind was told
 * is told again under the same id.
 */
export function watchDrops(nextId: () => number): (input: DropInput) => readonly LiveEvent[] {
  const ring = keepRing()
  /** First sample that may count as "before" a new fall. */
  let fromSample = 0
  let zeroN = 0
  let loadedSinceS = Number.NaN
  let open: Fall | null = null
  let last: { readonly fall: Fall; readonly atSample: number; readonly kind: LiveEvent['kind'] } | null = null

  const tell = (fall: Fall, kind: LiveEvent['kind'], settled: boolean, confidence: number): LiveEvent => ({
    id: fall.id,
    kind,
    settled,
    atS: fall.beforeS,
    beforeN: fall.beforeN - zeroN,
    afterN: fall.lowestN - zeroN,
    dropN: fall.beforeN - fall.lowestN,
    confidence,
  })

  const settle = (fall: Fall, sample: number, kind: LiveEvent['kind'], confidence: number): LiveEvent => {
    open = null
    if (kind !== 'none') last = { fall, atSample: sample, kind }
    fromSample = kind === 'none' ? sample : fall.lowestAt
    return tell(fall, kind, true, confidence)
  }

  /** The next sample of a fall in hand. */
  const follow = (fall: Fall, input: DropInput, sample: number): readonly LiveEvent[] => {
    const now = input.forceN
    const stepN = fall.lastN - now
    const dropN = fall.beforeN - fall.lowestN
    const abrupt = fall.steps >= 3 && stepN > ABRUPT * fall.greatestStepN
    if ((fall.ended || abrupt) && stepN > Math.max(leastFall(input, fall.lastN), 0.1 * dropN)) {
      // Another one before this one's kind was clear.
      const first = settle(fall, sample - 1, ...kindOf(fall, input, sample - 1))
      fromSample = sample - 1
      return [first, ...look(input, sample)]
    }
    fall.seen++
    fall.lastN = now
    if (now < fall.lowestN) {
      fall.lowestN = now
      fall.lowestAt = sample
    }
    if (stepN > 0) fall.steps++
    fall.greatestStepN = Math.max(fall.greatestStepN, stepN)
    if (now > fall.beforeN - 0.3 * dropN) return [settle(fall, sample, 'none', 0.9)]
    if (stepN < 0.25 * (dropN / fall.steps)) fall.ended = true
    if (fall.ended && now < input.freeBelowN) return [settle(fall, sample, ...kindOf(fall, input, sample))]
    if (fall.seen < EVIDENCE_SAMPLES) return NOTHING
    return [settle(fall, sample, ...kindOf(fall, input, sample))]
  }

  const kindOf = (fall: Fall, input: DropInput, sample: number): [LiveEvent['kind'], number] => {
    const dropN = fall.beforeN - fall.lowestN
    const lasted = ring.time(fall.lowestAt) - fall.beforeS
    const even = fall.steps >= EVIDENCE_SAMPLES && fall.greatestStepN < EVEN_SHARE * dropN
    if (even && (!fall.ended || lasted > UNLOAD_S)) return ['unload', 0.6]
    if (fall.lowestN < input.freeBelowN) return ['break', 0.9]
    // Parallel parts lose stiffness with each that goes; a grip that slips does not change the stiffness.
    const share = dropN / (fall.beforeN - zeroN)
    if (fall.rampNPerS <= 0 || sample - fall.lowestAt < 2) return ['partial-break', 0.5]
    const left = slope(ring, fall.lowestAt, sample) / fall.rampNPerS
    const doubt = slopeDoubt(ring, fall.lowestAt, sample, input.noiseN)
    const leftDoubt = Math.hypot(doubt / fall.rampNPerS, fall.rampDoubt / fall.rampNPerS, PACE_DOUBT)
    // Halfway between no loss of stiffness and a loss in proportion to the force that was lost.
    const towardsSlip = (left - (1 - share / 2)) / leftDoubt
    if (towardsSlip > 1.5) return ['slip', Math.min(0.9, 0.5 + towardsSlip / 10)]
    return ['partial-break', Math.min(0.9, 0.5 + Math.max(0, -towardsSlip) / 10)]
  }

  const leastFall = ({ noiseN, quantumN }: DropInput, beforeN: number): number =>
    Math.max(NOISES * noiseN, QUANTA * quantumN, SHARE * (beforeN - zeroN))

  /** Looks for a fall that ends at this sample. */
  const look = (input: DropInput, sample: number): readonly LiveEvent[] => {
    const { atS, forceN: now, freeBelowN } = input
    const first = Math.max(fromSample, ring.oldest)
    let from = sample - 1
    while (from > first && (sample - from < FALL_SAMPLES || atS - ring.time(from - 1) <= FALL_S)) from--
    if (from < first) return NOTHING
    let top = from
    for (let i = from; i < sample; i++) if (ring.force(i) >= ring.force(top)) top = i
    // Most samples end here, before anything costly.
    if (ring.force(top) - now < leastFall(input, ring.force(top))) return NOTHING
    const before = lastSteady(top, sample, first)
    const beforeN = ring.force(before)
    const fellN = beforeN - now
    if (beforeN < freeBelowN || fellN < leastFall(input, beforeN)) return NOTHING
    const rampFrom = Math.max(first, before - RAMP_SAMPLES)
    const rampNPerS = slope(ring, rampFrom, before)
    if (fellN < FASTER * Math.abs(rampNPerS) * (atS - ring.time(before))) return NOTHING
    // A fall that goes on, without a rise, just after its kind was told is the same fall.
    const same =
      last !== null &&
      before <= last.atSample &&
      sample - last.atSample <= 2 &&
      beforeN <= last.fall.lowestN + NOISES * input.noiseN &&
      fellN / (sample - before) < ABRUPT * last.fall.greatestStepN &&
      (last.kind === 'unload' || !last.fall.ended)
        ? last.fall
        : null
    open = {
      id: same?.id ?? nextId(),
      beforeS: same?.beforeS ?? ring.time(before),
      beforeN: same?.beforeN ?? beforeN,
      rampNPerS: same?.rampNPerS ?? rampNPerS,
      rampDoubt: same?.rampDoubt ?? slopeDoubt(ring, rampFrom, before, input.noiseN),
      lowestN: now,
      lowestAt: sample,
      steps: (same?.steps ?? 0) + sample - before,
      greatestStepN: Math.max(same?.greatestStepN ?? 0, fellN / (sample - before)),
      lastN: now,
      seen: 0,
      ended: false,
    }
    return [tell(open, 'drop', false, 0.5)]
  }

  /** The greatest sample before a fall; the one before it where that one alone jumped up out of line. */
  const lastSteady = (top: number, sample: number, first: number): number => {
    const rampFrom = Math.max(first, top - RAMP_SAMPLES)
    if (top - rampFrom < 3) return top
    const pace = slope(ring, rampFrom, top - 1)
    const stepS = ring.time(top) - ring.time(top - 1)
    const jumpN = ring.force(top) - ring.force(top - 1)
    const dropN = ring.force(top) - ring.force(sample)
    // A glitch goes up about as far as it comes down.
    const isGlitch = jumpN > 3 * Math.abs(pace) * stepS && jumpN > 0.5 * dropN
    return isGlitch ? top - 1 : top
  }

  return input => {
    const sample = ring.count
    ring.add(input.atS, input.forceN)
    zeroN = input.zeroN
    if (input.forceN > input.freeBelowN) {
      if (Number.isNaN(loadedSinceS)) loadedSinceS = input.atS
    } else if (!open) loadedSinceS = wasLoaded(sample) ? loadedSinceS : Number.NaN
    if (open) return follow(open, input, sample)
    return input.atS - loadedSinceS >= LOADED_S ? look(input, sample) : NOTHING
  }

  /**
   * Whether a fall to nothing may still be told: its first sample under the threshold is the one that shows
   * it.
   */
  function wasLoaded(sample: number): boolean {
    return sample > 0 && ring.force(sample - 1) > ring.force(sample)
  }
}

import { pullThresholdN } from '../../core/reading/pulls.ts'
import type { LiveEvent } from '../types.ts'
import { keepBins } from './bins.ts'
import { watchDrops } from './drops.ts'
import { watchNoise } from './noise.ts'

/** So long a quiet stretch is taken for a zero. */
const ZERO_S = 0.5
/** So long it must stand still to be a zero for the time being. */
const SHORT_REST_S = 0.15
const RATE_S = 0.5
/** A stretch is quiet when it stays within so many noise standard deviations and display steps. */
const QUIET_NOISES = 8
const QUIET_QUANTA = 3
/** A start by force asks for more than a load that counts. */
const START_NOISES = 10
const START_QUANTA = 5

/** What one sample means at this moment. Forces in the unit that the meter is fed with. */
interface Metered {
  /** Above the live zero. */
  readonly forceN: number
  readonly events: readonly LiveEvent[]
}

export interface Meter {
  /** One sample: bounded work, whatever came before. */
  add(atS: number, indicatedN: number): Metered
  /** Takes the next quiet half second for the zero. */
  zeroWhenQuiet(): void
  /**
   * Takes the mean of the last half second for the zero, quiet or not: the operator says that nothing pulls.
   */
  zeroNow(): void
  /** Level of the last half second, and whether it stands still; `null` for too few samples. */
  level(): { readonly mean: number; readonly spread: number; readonly isQuiet: boolean } | null
  /** Forgets peaks, not the zero: a recording begins. */
  begin(): void
  /** A pull begins: it has a peak of its own. */
  beginPull(): void
  /** A pull has ended and nothing pulls now: the next quiet half second is the true zero of the pull too. */
  restAfterPull(): void
  /** Forces come with the other sign from now on: the way that pulls has been found to be down. */
  turn(): void
  /** The line or the device began anew: what was learned of its noise stays, time and zero do not. */
  breakOff(): void
  readonly zeroN: number
  readonly zeroFrom: 'rest' | 'operator' | 'none'
  readonly forceN: number | null
  readonly peakN: number | null
  readonly pullPeakN: number | null
  readonly rateNPerS: number | null
  /** Force above the zero from which on the specimen counts as loaded. */
  readonly loadedFromN: number
  /** Force above the zero that starts an armed recording, where the plan names none. */
  readonly startAtN: number
}

/**
 * The live figures. Provisional all of them: the batch reading of the same samples replaces them at the end.
 *
 * The live zero is the level when it was armed, or what the operator set; after a pull, the level at rest,
 * which is then taken off the peak of that pull too (an indicator zeroed under load shows a rest far below
 * zero).
 */
export function makeMeter(): Meter {
  const noise = watchNoise()
  const bins = keepBins()
  let told = 0
  const nextId = () => ++told
  let drops = watchDrops(nextId)
  let zeroN = 0
  let zeroFrom: Meter['zeroFrom'] = 'none'
  let wanted: 'none' | 'zero' | 'after-pull' = 'none'
  let pulling = false
  let jumpedS = Number.NaN
  let now: number | null = null
  let peakIndicatedN: number | null = null
  let pullIndicatedN: number | null = null
  let pullZeroN = 0
  let bestBeforeN: number | null = null
  let beforeN = Number.NaN
  let beforeThatN = Number.NaN
  let lastDropS = Number.NEGATIVE_INFINITY

  const pullPeak = (): number | null => (pullIndicatedN === null ? null : pullIndicatedN - pullZeroN)
  const peak = (): number | null => {
    const inHand = peakIndicatedN === null ? null : peakIndicatedN - pullZeroN
    if (bestBeforeN === null || inHand === null) return inHand ?? bestBeforeN
    return Math.max(bestBeforeN, inHand)
  }
  const loadedFrom = (): number => pullThresholdN(peak() ?? 0, noise.noise, noise.quantum)

  const setZero = (level: number, from: 'rest' | 'operator'): void => {
    if (wanted === 'after-pull' && from === 'rest') pullZeroN = level
    if (pullIndicatedN === null) pullZeroN = level
    zeroN = level
    zeroFrom = from
    wanted = 'none'
  }
  const level = (spanS: number): ReturnType<Meter['level']> => {
    const rest = bins.over(spanS)
    if (!rest) return null
    const spread = rest.high - rest.low
    return { mean: rest.mean, spread, isQuiet: spread <= quietWidth() }
  }
  const quietWidth = (): number => Math.max(QUIET_NOISES * noise.noise, QUIET_QUANTA * noise.quantum)
  const quietLevel = (): number | null => {
    const last = level(ZERO_S)
    return last?.isQuiet ? last.mean : null
  }
  /**
   * While nothing pulls, a jump from one quiet level to another is the zero key: no hand loads in one step.
   */
  const watchZeroKey = (atS: number, indicatedN: number): void => {
    if (pulling || zeroFrom === 'none') return
    const jump = Math.abs(indicatedN - (now ?? indicatedN))
    if (jump > quietWidth()) {
      jumpedS = quietLevel() === null ? Number.NaN : atS
    } else if (atS - jumpedS > ZERO_S * 1.2) {
      const level = quietLevel()
      if (level !== null) setZero(level, 'rest')
      jumpedS = Number.NaN
    }
  }
  const lookForZero = (): void => {
    if (wanted === 'none') return
    const level = quietLevel()
    if (level !== null) setZero(level, 'rest')
  }
  /** The sample before this one, unless it alone jumped up: a glitch is no peak. */
  const takePeak = (indicatedN: number): void => {
    const aboveBoth = beforeN - Math.max(beforeThatN, indicatedN)
    const glitch = Math.max(20 * noise.noise, 10 * noise.quantum, 0.2 * Math.abs(beforeN - zeroN))
    if (!Number.isNaN(beforeThatN) && aboveBoth <= glitch) {
      peakIndicatedN = Math.max(peakIndicatedN ?? beforeN, beforeN)
      pullIndicatedN = Math.max(pullIndicatedN ?? beforeN, beforeN)
    }
    beforeThatN = beforeN
    beforeN = indicatedN
  }

  const breakOff = (): void => {
    bins.clear()
    drops = watchDrops(nextId)
    beforeN = beforeThatN = Number.NaN
  }

  return {
    add(atS, indicatedN) {
      noise.add(indicatedN)
      watchZeroKey(atS, indicatedN)
      bins.add(atS, indicatedN)
      lookForZero()
      takePeak(indicatedN)
      now = indicatedN
      const forceN = indicatedN - zeroN
      const freeBelowN = zeroN + loadedFrom()
      const { noise: noiseN, quantum: quantumN } = noise
      const events = drops({ atS, forceN: indicatedN, zeroN, noiseN, quantumN, freeBelowN })
      if (events.length > 0) lastDropS = atS
      return { forceN, events }
    },
    zeroWhenQuiet() {
      const moved = level(SHORT_REST_S)
      // The level may have shifted just before: what stands still now, if shortly, is nearer to it than the
      // old zero.
      if (moved?.isQuiet && Math.abs(moved.mean - zeroN) > quietWidth()) setZero(moved.mean, 'rest')
      wanted = 'zero'
    },
    zeroNow() {
      const rest = bins.over(ZERO_S)
      if (rest) setZero(rest.mean, 'operator')
    },
    level: () => level(ZERO_S),
    begin() {
      peakIndicatedN = pullIndicatedN = bestBeforeN = null
      beforeN = beforeThatN = Number.NaN
      pullZeroN = zeroN
    },
    beginPull() {
      bestBeforeN = peak()
      peakIndicatedN = pullIndicatedN = now
      pullZeroN = zeroN
      wanted = 'none'
      pulling = true
    },
    restAfterPull() {
      pulling = false
      if (wanted === 'none') wanted = 'after-pull'
    },
    turn() {
      breakOff()
      zeroN = 0 - zeroN
      pullZeroN = 0 - pullZeroN
      now = now === null ? null : 0 - now
      // The force has never gone further this way than now, or it would have been turned before.
      peakIndicatedN = pullIndicatedN = now
      bestBeforeN = null
    },
    breakOff,
    get zeroN() {
      return zeroN
    },
    get zeroFrom() {
      return zeroFrom
    },
    get forceN() {
      return now === null ? null : now - zeroN
    },
    get peakN() {
      return peak()
    },
    get pullPeakN() {
      return pullPeak()
    },
    get rateNPerS() {
      return bins.slope(RATE_S, lastDropS)
    },
    get loadedFromN() {
      return loadedFrom()
    },
    get startAtN() {
      return Math.max(START_NOISES * noise.noise, START_QUANTA * noise.quantum)
    },
  }
}

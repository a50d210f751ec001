import type { WildPattern } from '../health/glitches.ts'
import type { Recording } from '../recording.ts'
import { type Extent, extentOf } from '../signal/extent.ts'
import { type Signal, signalSummary } from '../signal/summary.ts'
import { type Working, workingSeries } from '../signal/working.ts'
import { type Quiet, quietNoise, quietStretches } from './quiet.ts'
import { findRezeros, type Rezero } from './rezero.ts'
import { swingingStretches, withSwings } from './swings.ts'
import { travelAlong } from './travel.ts'

/** Rate and doubts of the working series. */
export type Pace = Pick<Signal, 'periodS' | 'jitterS' | 'noiseN' | 'quantumN'>

/** A recording never changes, and is read again and again: what was found of it before the zero is kept. */
const starts = new WeakMap<Recording, { readonly wild: readonly WildPattern[]; readonly start: Start }>()

/** What the stages before the zero find, which of all options only the known wild readings touch. */
export function beforeZero(recording: Recording, wild: readonly WildPattern[]): Start {
  const last = starts.get(recording)
  if (last?.wild === wild) return last.start
  const start = findStart(recording, wild)
  starts.set(recording, { wild, start })
  return start
}

/** Noise, glitches, rests and settings of the zero. */
function findStart(recording: Recording, wild: readonly WildPattern[]): Start {
  const extent = extentOf(recording.forceN)
  const rough = signalSummary(withinReason(recording, extent), wild)
  const series = workingSeries(
    recording.timeS,
    rough.forceN,
    recording.segments,
    rough.rateHz,
    rough.gaps.map(gap => gap.from),
  )
  const { timeS, forceN, segments } = series
  const noise = quietNoise(quietStretches(timeS, forceN, segments, paceOf(rough, series.block)))
  const signal =
    noise === null
      ? rough
      : { ...rough, noiseN: Math.min(MAX_NOISE * rough.noiseN, noise.usualN * Math.sqrt(series.block)) }
  const pace = paceOf(signal, series.block)
  const calmN = Math.min(pace.noiseN, noise?.calmestN ?? pace.noiseN)
  const still = quietStretches(timeS, forceN, segments, pace)
  const quiets = withSwings(still, swingingStretches(timeS, forceN, segments, pace))
  const rezeros = findRezeros(timeS, forceN, segments, pace, quiets)
  const { high: greatestN } = rough.forceN === recording.forceN ? extent : extentOf(rough.forceN)
  const travelMm = travelAlong(recording, timeS)
  return { timeS: recording.timeS, signal, series, pace, calmN, quiets, rezeros, greatestN, travelMm }
}

/** What fluctuates about a held load, or bends, is no noise of the converter: it is at most so many of the first estimate. */
const MAX_NOISE = 2

/** Nothing on a bench reaches this force; squares of larger numbers would leave the range of floating point. */
const MOST_N = 1e100

function withinReason(recording: Recording, { low, high }: Extent): Recording {
  return high > MOST_N || low < -MOST_N
    ? { ...recording, forceN: recording.forceN.map(f => Math.min(MOST_N, Math.max(-MOST_N, f))) }
    : recording
}

/** Noise and display step are less in a mean of `block` samples. */
const paceOf = ({ periodS, jitterS, noiseN, quantumN }: Signal, block: number): Pace => ({
  periodS: periodS * block,
  jitterS: jitterS / Math.sqrt(block),
  noiseN: noiseN / Math.sqrt(block),
  quantumN: quantumN / block,
})

export interface Start {
  /** Times of the recording's own readings. */
  readonly timeS: Float64Array
  readonly signal: Signal
  readonly series: Working
  readonly pace: Pace
  /** Noise of the converter where the reading is calmest, in N: what else fluctuates is force. */
  readonly calmN: number
  readonly quiets: readonly Quiet[]
  readonly rezeros: readonly Rezero[]
  /** Greatest force of the signal. */
  readonly greatestN: number
  readonly travelMm: Float64Array | null
}

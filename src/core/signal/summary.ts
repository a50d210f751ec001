import type { Recording } from '../recording.ts'
import { findGaps, type Gap } from './gaps.ts'
import { roughNoise } from './noise.ts'
import { displayStep } from './quantum.ts'
import { sampleRate } from './rate.ts'
import { findSpikes, type Spike, withoutSpikes } from './spikes.ts'

/** What the samples say of the rig that made them, before any meaning. */
export interface Signal {
  /** Median step between samples, in s; 0 where there are not two. */
  readonly periodS: number
  /** 1 / periodS, or 0. */
  readonly rateHz: number
  readonly jitterS: number
  /** Standard deviation of the reading, in N. */
  readonly noiseN: number
  /** Step of the display, in N; 0 where none can be seen. */
  readonly quantumN: number
  readonly gaps: readonly Gap[]
  readonly spikes: readonly Spike[]
  /** Force with the glitches taken out; the recording's own array where there are none. */
  readonly forceN: Float64Array
}

/** Rate, noise, display step, gaps and glitches of a recording. */
export function signalSummary(recording: Recording): Signal {
  const { timeS, forceN, segments } = recording
  const { periodS, jitterS, gapS } = sampleRate(timeS, segments)
  const quantumN = displayStep(forceN)
  const noiseN = roughNoise(forceN, segments)
  const spikes = findSpikes(timeS, forceN, segments, { noiseN, quantumN, periodS })
  return {
    periodS,
    rateHz: periodS > 0 ? 1 / periodS : 0,
    jitterS,
    noiseN,
    quantumN,
    gaps: findGaps(timeS, segments, gapS),
    spikes,
    forceN: withoutSpikes(forceN, spikes),
  }
}

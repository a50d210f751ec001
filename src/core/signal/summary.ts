import { isAlike, type WildPattern, withoutGlitches } from '../health/glitches.ts'
import { patternedGlitches } from '../health/patterned.ts'
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
  /** How many of them read what a check of the rig has found of its wild readings. */
  readonly asKnown: number
  /** Force with the glitches taken out; the recording's own array where there are none. */
  readonly forceN: Float64Array
}

/** Rate, noise, display step, gaps and glitches of a recording. `known`: wild readings that a check of the rig found. */
export function signalSummary(recording: Recording, known: readonly WildPattern[] = []): Signal {
  const { timeS, forceN, segments } = recording
  const { periodS, jitterS, gapS } = sampleRate(timeS, segments)
  const rough = { ...scaleOf(forceN, segments), periodS }
  const patterned = patternedGlitches(recording, rough, known)
  if (patterned.length > 0) {
    // What the converter makes wild is taken out first: several together would look like a rise of the force.
    const rest = signalSummary({ ...recording, forceN: withoutGlitches(forceN, patterned) })
    const spikes = [...rest.spikes, ...patterned.map(({ index }) => ({ index, atS: timeS[index]! }))]
    const asKnown = patterned.filter(g => isAlike(g, known)).length
    return { ...rest, spikes: spikes.sort((a, b) => a.index - b.index), asKnown }
  }
  const found = findSpikes(timeS, forceN, segments, rough)
  // An absurd sample would hide the step of the display, and with it the noise: neither is taken from it.
  const clean = found.length === 0 ? rough : { ...scaleOf(withoutSpikes(forceN, found), segments), periodS }
  const spikes = found.length === 0 ? found : findSpikes(timeS, forceN, segments, clean)
  return {
    periodS,
    rateHz: periodS > 0 ? 1 / periodS : 0,
    jitterS,
    noiseN: clean.noiseN,
    quantumN: clean.quantumN,
    gaps: findGaps(timeS, segments, gapS),
    spikes,
    asKnown: 0,
    forceN: withoutSpikes(forceN, spikes),
  }
}

const scaleOf = (
  forceN: Float64Array,
  segments: Recording['segments'],
): Pick<Signal, 'noiseN' | 'quantumN'> => ({
  noiseN: roughNoise(forceN, segments),
  quantumN: displayStep(forceN),
})

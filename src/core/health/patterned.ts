import type { Recording } from '../recording.ts'
import { extentOf } from '../signal/extent.ts'
import { findGlitches, withAlike } from './glitches.ts'
import { sortGlitches } from './glitchKinds.ts'
import type { Glitch } from './types.ts'

/** So few alike may be chance. */
const LEAST_ALIKE = 4

/**
 * Wild readings of an ordinary record that follow a pattern of the converter: doubled, halved, a fixed word,
 * another channel. Where some of one kind are there, the others of it are told even where they come together
 * or stand on a steep course, where a single one cannot be told from what a specimen does. None where fewer
 * than four are alike.
 */
export function patternedGlitches(
  recording: Pick<Recording, 'timeS' | 'forceN' | 'segments' | 'forceUnit'>,
  { noiseN, quantumN, periodS }: { noiseN: number; quantumN: number; periodS: number },
): readonly Glitch[] {
  const { steadyLow, steadyHigh } = extentOf(recording.forceN)
  const scale = { noiseN, stepN: quantumN, spanN: steadyHigh - steadyLow, periodS }
  const found = findGlitches(recording, scale)
  if (found.length < LEAST_ALIKE) return []
  const kinds = sortGlitches(found, { ...scale, inCounts: recording.forceUnit === 'counts' }).filter(
    k => k.reads.length > 0 && k.glitches.length >= LEAST_ALIKE,
  )
  if (kinds.length === 0) return []
  const alike = kinds.flatMap(k => k.glitches).sort((a, b) => a.index - b.index)
  const reads = kinds.flatMap(k => k.reads)
  return withAlike(recording.forceN, alike, reads, scale)
}

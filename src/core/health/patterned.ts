import type { Recording } from '../recording.ts'
import { extentOf } from '../signal/extent.ts'
import { findGlitches, withAlike } from './glitches.ts'
import { type GlitchGroup, sortGlitches } from './glitchKinds.ts'
import type { Glitch } from './types.ts'

/** So few alike may be chance. */
export const LEAST_ALIKE = 4

/**
 * Wild readings of an ordinary record that follow a pattern of the converter: doubled, halved, a fixed word,
 * another channel. Where some of one kind are there, the others of it are told even where they come together
 * or stand on a steep course, where a single one cannot be told from what a specimen does. None where fewer
 * than four are alike, but for those of a pattern that a check of the rig has found (`known`): of these one is enough.
 */
export function patternedGlitches(
  recording: Pick<Recording, 'timeS' | 'forceN' | 'segments' | 'forceUnit'>,
  { noiseN, quantumN, periodS }: { noiseN: number; quantumN: number; periodS: number },
  known: GlitchGroup['reads'] = [],
): readonly Glitch[] {
  const { steadyLow, steadyHigh } = extentOf(recording.forceN)
  const scale = { noiseN, stepN: quantumN, spanN: steadyHigh - steadyLow, periodS }
  const found = findGlitches(recording, scale)
  if (found.length < LEAST_ALIKE) return withAlike(recording.forceN, [], known, scale)
  const kinds = sortGlitches(found, { ...scale, inCounts: recording.forceUnit === 'counts' }).filter(
    k => k.reads.length > 0 && k.glitches.length >= LEAST_ALIKE,
  )
  const alike = kinds.flatMap(k => k.glitches).sort((a, b) => a.index - b.index)
  const reads = [...kinds.flatMap(k => k.reads), ...known]
  return withAlike(recording.forceN, alike, reads, scale)
}

import type { Recording } from '../../../src/core/recording.ts'

/**
 * A recording as it would have been with taps on the rig at the times given: each an impulse within the period of one
 * reading, or spread over `span` readings by a converter that averages.
 */
export function withTaps(
  recording: Recording,
  timesS: readonly number[],
  { peakN, span = 1 }: { peakN: number; span?: number },
): Recording {
  const forceN = recording.forceN.slice()
  for (const atS of timesS) {
    // A reading holds what happened in the period up to its stamp.
    const first = recording.timeS.findIndex(t => t >= atS)
    for (let k = 0; k < span && first >= 0 && first + k < forceN.length; k++)
      forceN[first + k]! += peakN / span
  }
  return { ...recording, forceN }
}

import type { Recording } from '../../core/recording.ts'
import { ownScaleOf } from '../../core/units/force.ts'

/**
 * Forces of samples `from` to `to` of a joined recording as its logs have them, before any calibration. `null` where they
 * are on another scale than the joined recording: raw counts that a calibration has made forces.
 */
export async function recordedForces(
  recordingIds: readonly string[],
  joined: Recording,
  { from, to }: { readonly from: number; readonly to: number },
  samplesOf: (recordingId: string) => Promise<Recording>,
): Promise<Float64Array | null> {
  const out = new Float64Array(to - from)
  let at = 0
  for (const id of recordingIds) {
    const { forceN, forceUnit } = await samplesOf(id)
    if (ownScaleOf(forceUnit) !== ownScaleOf(joined.forceUnit)) return null
    const [first, end] = [Math.max(from, at), Math.min(to, at + forceN.length)]
    if (end > first) out.set(forceN.subarray(first - at, end - at), first - from)
    at += forceN.length
  }
  return at === joined.forceN.length ? out : null
}

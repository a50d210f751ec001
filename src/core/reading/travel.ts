import type { Channel, Recording } from '../recording.ts'

/**
 * Extension of the specimen, else travel of the drive, in mm at each sample of the working series; `null` where the
 * log has neither or some of it is missing.
 */
export function travelAlong(recording: Recording, timeS: Float64Array): Float64Array | null {
  const { channels } = recording
  const length = channels.find(c => c.kind === 'extension') ?? channels.find(c => c.kind === 'travel')
  return length && length.unit === 'mm' ? alongSeries(length, recording, timeS) : null
}

/** A channel at the times of the working series; `null` where cells were empty. */
function alongSeries({ values }: Channel, { timeS }: Recording, at: Float64Array): Float64Array | null {
  const out = new Float64Array(at.length)
  let i = 0
  for (let k = 0; k < at.length; k++) {
    while (i + 1 < timeS.length && Math.abs(timeS[i + 1]! - at[k]!) <= Math.abs(timeS[i]! - at[k]!)) i++
    out[k] = values[i]!
    if (!Number.isFinite(out[k]!)) return null
  }
  return out
}

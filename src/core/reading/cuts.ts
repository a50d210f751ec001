import type { Recording, Segment } from '../recording.ts'

/** The recording without the samples in the spans; itself where there are none to leave out. */
export function withoutCuts(
  recording: Recording,
  cuts: readonly { readonly fromS: number; readonly toS: number }[],
): Recording {
  if (cuts.length === 0) return recording
  const { timeS, forceN, channels } = recording
  const stays: number[] = []
  const segments: Segment[] = []
  for (const segment of recording.segments) {
    const from = stays.length
    for (let i = segment.from; i < segment.to; i++) {
      const t = timeS[i]!
      if (!cuts.some(({ fromS, toS }) => t >= fromS && t <= toS)) stays.push(i)
    }
    if (stays.length > from) segments.push({ ...segment, from, to: stays.length })
  }
  // Everything cut would leave nothing to read.
  if (stays.length === timeS.length || stays.length === 0) return recording
  const pick = (values: Float64Array): Float64Array => Float64Array.from(stays, i => values[i]!)
  return {
    ...recording,
    timeS: pick(timeS),
    forceN: pick(forceN),
    segments,
    channels: channels.map(channel => ({ ...channel, values: pick(channel.values) })),
  }
}

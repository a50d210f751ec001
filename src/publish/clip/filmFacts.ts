import { ALL_FORMATS, EncodedPacketSink, Input, Logging, LogLevel, type Source } from 'mediabunny'
import { fine, type Outcome } from '../../core/problem.ts'
import { type FrameTimes, listedFrames, steadyFrames } from './frameTimes.ts'

/** What an overlay must know of the clip that it is laid over. */
export interface FilmFacts {
  readonly width: number
  readonly height: number
  readonly times: FrameTimes
}

/** Where the frames of a clip stand, in seconds, in any order, and how large they are shown. */
export interface Packets {
  readonly width: number
  readonly height: number
  readonly spans: readonly { readonly fromS: number; readonly lengthS: number }[]
}

/** Rates that cameras have; a clip whose frames keep to one is steady. */
const RATES = [24, 25, 30, 48, 50, 60, 90, 100, 120, 240].flatMap(hz =>
  hz % 6 === 0
    ? [
        { num: hz * 1000, den: 1001 },
        { num: hz, den: 1 },
      ]
    : [{ num: hz, den: 1 }],
)
/** Some containers keep times in milliseconds. */
const ROUNDED_S = 0.0011

/**
 * What the first video track of a file says of its frames (MP4, MOV, WebM, Matroska), without decoding any;
 * `null` where it has none. Rejects where the file is of no such kind.
 */
export async function packetsIn(source: Source): Promise<Packets | null> {
  // What it cannot read is told by us, in our own words.
  Logging.level = LogLevel.Silent
  const input = new Input({ source, formats: ALL_FORMATS })
  try {
    const track = await input.getPrimaryVideoTrack()
    if (track === null) return null
    const spans: { fromS: number; lengthS: number }[] = []
    const packets = new EncodedPacketSink(track).packets(undefined, undefined, { metadataOnly: true })
    for await (const packet of packets) spans.push({ fromS: packet.timestamp, lengthS: packet.duration })
    return { width: await track.getDisplayWidth(), height: await track.getDisplayHeight(), spans }
  } finally {
    input.dispose()
  }
}

/**
 * Frames in the order in which they are shown; a steady rate where they keep to one from the start of the
 * clip.
 */
export function factsOf({ width, height, spans }: Packets, name: string): Outcome<FilmFacts> {
  const inOrder = spans.filter(span => span.fromS >= 0).toSorted((a, b) => a.fromS - b.fromS)
  const timesS = inOrder.map(span => span.fromS)
  const last = inOrder.at(-1)
  const endS = last === undefined ? 0 : last.fromS + last.lengthS
  const rate = RATES.find(({ num, den }) => timesS.every((t, k) => Math.abs(t - (k * den) / num) < ROUNDED_S))
  if (rate !== undefined && timesS.length > 1)
    return fine({ width, height, times: steadyFrames(rate, (timesS.length * rate.den) / rate.num) })
  const listed = listedFrames(timesS, last === undefined || last.lengthS <= 0 ? null : endS, name)
  return listed.ok ? fine({ width, height, times: listed.value }) : listed
}

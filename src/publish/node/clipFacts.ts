import { spawn } from 'node:child_process'
import { access } from 'node:fs/promises'
import { resolve } from 'node:path'
import { fileProblem } from '../../core/fileProblem.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { type FrameTimes, listedFrames, steadyFrames } from '../clip/frameTimes.ts'

/** What an overlay must know of the clip that it is laid over. */
export interface ClipFacts {
  readonly width: number
  readonly height: number
  readonly times: FrameTimes
}

/** Where the frames of a clip stand, in seconds, in any order, and how large they are shown. */
interface Packets {
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

/** Size and frame times of a video file: MP4, MOV, WebM, Matroska are read here, what else there is by ffprobe. */
export async function clipFacts(path: string): Promise<Outcome<ClipFacts>> {
  try {
    await access(path)
  } catch (error) {
    return wrong(fileProblem(path, error))
  }
  const found = (await readHere(path).catch(() => null)) ?? (await readByProbe(path))
  if (found === null || found.spans.length === 0) {
    return wrong({
      where: path,
      what: 'no video track could be read in it.',
      cure: 'Install ffprobe (it comes with ffmpeg), or give --size, --fps and --length.',
    })
  }
  return factsOf(found, path)
}

async function readHere(path: string): Promise<Packets | null> {
  const { ALL_FORMATS, EncodedPacketSink, FilePathSource, Input, Logging, LogLevel } = await import(
    'mediabunny'
  )
  // What it cannot read is told by us, in our own words.
  Logging.level = LogLevel.Silent
  const input = new Input({ source: new FilePathSource(path), formats: ALL_FORMATS })
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

interface Probed {
  readonly streams?: readonly { readonly width?: number; readonly height?: number }[]
  readonly packets?: readonly { readonly pts_time?: string; readonly duration_time?: string }[]
}

async function readByProbe(path: string): Promise<Packets | null> {
  const child = spawn(
    'ffprobe',
    [
      ...['-v', 'error', '-protocol_whitelist', 'file', '-select_streams', 'v:0', '-of', 'json'],
      ...['-show_entries', 'stream=width,height:packet=pts_time,duration_time', `file:${resolve(path)}`],
    ],
    { stdio: ['ignore', 'pipe', 'ignore'], windowsHide: true },
  )
  let text = ''
  child.stdout.setEncoding('utf8').on('data', (piece: string) => {
    text += piece
  })
  const code = await new Promise<number | null>(done => {
    child.on('error', () => done(null))
    child.on('close', done)
  })
  if (code !== 0) return null
  const { streams, packets = [] } = JSON.parse(text) as Probed
  const { width, height } = streams?.[0] ?? {}
  if (width === undefined || height === undefined) return null
  const spans = packets.flatMap(({ pts_time, duration_time }) =>
    pts_time === undefined ? [] : [{ fromS: Number(pts_time), lengthS: Number(duration_time ?? 0) }],
  )
  return { width, height, spans }
}

/** Frames in the order in which they are shown; a steady rate where they keep to one from the start of the clip. */
function factsOf({ width, height, spans }: Packets, path: string): Outcome<ClipFacts> {
  const inOrder = spans.filter(span => span.fromS >= 0).toSorted((a, b) => a.fromS - b.fromS)
  const timesS = inOrder.map(span => span.fromS)
  const last = inOrder.at(-1)
  const endS = last === undefined ? 0 : last.fromS + last.lengthS
  const rate = RATES.find(({ num, den }) => timesS.every((t, k) => Math.abs(t - (k * den) / num) < ROUNDED_S))
  if (rate !== undefined && timesS.length > 1)
    return fine({ width, height, times: steadyFrames(rate, (timesS.length * rate.den) / rate.num) })
  const listed = listedFrames(timesS, last === undefined || last.lengthS <= 0 ? null : endS, path)
  return listed.ok ? fine({ width, height, times: listed.value }) : listed
}

import { Command, Option } from 'commander'
import { fine, type Outcome } from '../../core/problem.ts'
import type { FrameRate } from '../../publish/clip/frameRate.ts'
import {
  type FrameTimes,
  fewEnough,
  frameCount,
  frameTimeS,
  parseFrameTimes,
  steadyFrames,
} from '../../publish/clip/frameTimes.ts'
import type { Ground } from '../../publish/clip/overlayShapes.ts'
import { type Take, takesEndS } from '../../publish/clip/take.ts'
import { clipTrack } from '../../publish/clip/track.ts'
import {
  clipFile,
  frameRate,
  type PictureSize,
  pictureSize,
  type RenderFlags,
  renderWithProgress,
} from '../clipFlags.ts'
import { readBytes } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import type { ClipTargets } from '../publish/clipTarget.ts'
import { type PlacedTarget, type PlaceFlags, placeTargets } from '../publish/openSync.ts'
import { lengthSeconds, seconds } from '../publish/seconds.ts'
import { addTargetOptions, type TargetFlags } from '../publish/targetOptions.ts'
import { withTargets } from '../publish/withTargets.ts'
import { tell } from '../tell.ts'

interface OverlayFlags extends TargetFlags, PlaceFlags, RenderFlags {
  readonly clip?: string
  readonly size?: PictureSize
  readonly fps?: FrameRate
  readonly frameTimes?: string
  readonly length?: number
  readonly look: 'light' | 'dark'
  readonly ground: Ground
}

const HELP = `
What is written: .webm with alpha, which editors and browsers lay over a video; .mov with alpha (by ffmpeg: ProRes 4444,
or lossless with --codec animation); without an ending a folder of PNG pictures, one a frame, which needs nothing else.
WebM is encoded by an installed Chromium, Chrome or Edge without a window, else by ffmpeg. Ctrl-C leaves nothing behind.

Frame k shows what had been read at its own time, k/fps, or that of --clip or --frame-times, and nothing later. With
--clip the overlay has the size, the frames and the length of that video, at a variable frame rate too.

Examples:
  tenterhook overlay paste-3.csv --out paste-3.webm                   as long as the recording, to lay on by hand
  tenterhook overlay paste-3.csv --clip film.mp4 --offset 12.4 --out paste-3.webm
  tenterhook overlay --study Handles --only "paste 3" --clip film.mp4 --offset 12.4 --out paste-3.webm
  tenterhook overlay *.csv --clip film.mov --sync film.sync.json --look light --ground rim --out film-force.mov
  tenterhook overlay paste-3.csv --size 1080x1920 --fps 30000/1001 --out pictures

Exit codes: 0 written; 2 the command line is wrong; 3 a file could not be understood; 4 the clip could not be written, or it was stopped.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description(
      'A transparent clip to lay over a video: the force as it happened, large, and its growing curve.',
    )
    .argument('[log...]', 'logs of the specimens that the clip shows')
    .requiredOption('--out <file>', 'clip to write: .webm, .mov, or a folder for PNG pictures', clipFile)
    .addOption(
      new Option('--offset <s>', 'time in the clip at which the recording begins, below 0 if before it')
        .argParser(seconds)
        .conflicts('sync'),
    )
    .option('--sync <file>', 'where the recordings lie in the clip, by tenterhook sync')
    .option('--nudge <s>', 'shift all by so much, later for a positive one', seconds)
    .option('--clip <video>', 'the video that it is for: size, frames and length are taken from it')
    .option('--size <size>', 'width x height in pixels, instead of 1920x1080', pictureSize)
    .addOption(
      new Option('--fps <rate>', 'frames a second, as in 25, 29.97 or 30000/1001, instead of 30')
        .argParser(frameRate)
        .conflicts('frameTimes'),
    )
    .addOption(
      new Option('--frame-times <file>', 'text with the time of each frame in seconds, one a line').conflicts(
        'clip',
      ),
    )
    .option(
      '--length <s>',
      'length, instead of that of --clip or --sync, else to the end of the recording',
      lengthSeconds,
    )
    .addOption(
      new Option('--look <look>', 'for the plate and its ink').choices(['light', 'dark']).default('dark'),
    )
    .addOption(
      new Option('--ground <ground>', 'a soft plate, or a rim around all that is drawn')
        .choices(['plate', 'rim'])
        .default('plate'),
    )
    .addOption(new Option('--encoder <which>', 'what encodes WebM').choices(['browser', 'ffmpeg']))
    .addOption(
      new Option('--codec <which>', 'what a .mov holds').choices(['prores', 'animation']).default('prores'),
    )
    .option('--json', 'say what was written as JSON')
  return addTargetOptions(command)
    .addHelpText('after', HELP)
    .action(async (files: string[], flags: OverlayFlags) =>
      done(await withTargets(files, flags, io, found => overlay(found, flags, io))),
    )
}

async function overlay(found: ClipTargets, flags: OverlayFlags, io: Io): Promise<ExitCode> {
  const frame = await clipFrame(flags)
  if (!frame.ok) return tell(io, frame.problems, EXIT.input)
  const places = await placeTargets(found, flags)
  if (!places.ok) return tell(io, places.problems, EXIT.input)
  const takes = places.value.placed.flatMap(takesOf)
  const times = fewEnough(timesOf(flags, frame.value.times, places.value.clipLengthS, takes))
  if (!times.ok) return tell(io, times.problems, EXIT.input)
  const { width, height } = flags.size ?? frame.value
  const { look, ground } = flags
  const job = {
    kind: 'overlay',
    takes,
    times: times.value,
    ground,
    width,
    height,
    dark: look === 'dark',
  } as const
  return renderWithProgress(job, flags, io)
}

interface ClipFrame extends PictureSize {
  /** `null` where only a rate is known, or nothing. */
  readonly times: FrameTimes | null
}

/** Size and frames of the video that the overlay is for, as far as the command line tells of one. */
async function clipFrame({ clip, frameTimes }: OverlayFlags): Promise<Outcome<ClipFrame>> {
  if (clip !== undefined) {
    const { clipFacts } = await import('../../publish/node/clipFacts.ts')
    return clipFacts(clip)
  }
  const usual = { width: 1920, height: 1080 }
  if (frameTimes === undefined) return fine({ ...usual, times: null })
  const bytes = await readBytes(frameTimes)
  if (!bytes.ok) return bytes
  const times = parseFrameTimes(new TextDecoder().decode(bytes.value), frameTimes)
  return times.ok ? fine({ ...usual, times: times.value }) : times
}

/** The frames of the video; with `--fps` or without a video, steady ones over the length asked for. */
function timesOf(
  { fps, length }: OverlayFlags,
  known: FrameTimes | null,
  syncLengthS: number | null,
  takes: readonly Take[],
): FrameTimes {
  const knownS = known === null ? null : frameTimeS(known, frameCount(known))
  if (known === null || fps !== undefined) {
    const lengthS = length ?? knownS ?? syncLengthS ?? takesEndS(takes)
    return steadyFrames(fps ?? { num: 30, den: 1 }, lengthS)
  }
  if (length === undefined) return known
  if (known.kind === 'steady') return steadyFrames(known.rate, length)
  const timesS = known.timesS.filter((timeS, k) => k === 0 || timeS < length)
  return { kind: 'listed', timesS, endS: Math.max(Math.min(known.endS, length), timesS.at(-1)!) }
}

function takesOf({ recording, reading, name, unit, placements }: PlacedTarget): Take[] {
  const track = clipTrack(recording, reading, { name, unit })
  return placements.map(place => ({ track, place }))
}

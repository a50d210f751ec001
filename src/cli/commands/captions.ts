import { extname } from 'node:path'
import { Command, InvalidArgumentError, Option } from 'commander'
import { captionCues, MOST_PER_SECOND } from '../../publish/captions/cues.ts'
import { writeSrt, writeVtt } from '../../publish/captions/write.ts'
import { RESULT_S } from '../../publish/clip/take.ts'
import { clipTimeAt } from '../../publish/sync/place.ts'
import { besideOutput, writeWhole } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { positive } from '../logOptions.ts'
import type { ClipTargets } from '../publish/clipTarget.ts'
import { type PlacedTarget, type PlaceFlags, placeTargets } from '../publish/openSync.ts'
import { lengthSeconds, seconds } from '../publish/seconds.ts'
import { addTargetOptions, type TargetFlags } from '../publish/targetOptions.ts'
import { withTargets } from '../publish/withTargets.ts'
import { tell } from '../tell.ts'

interface CaptionFlags extends TargetFlags, PlaceFlags {
  readonly out: string
  readonly length?: number
  readonly perSecond: number
  readonly json?: true
}

const EXAMPLES = `
Times are the clip's own, whatever its frame rate: what a player shows.

Examples:
  tenterhook captions paste-3.csv --offset 12.4 --length 95 --out paste-3.vtt
  tenterhook captions paste-3.csv --sync clip.sync.json --out clip.srt       offset, clock and length from tenterhook sync
  tenterhook captions --study Handles --sync clip.sync.json --out clip.vtt
  tenterhook captions paste-3.csv --sync clip.sync.json --nudge -0.1 --per-second 5 --show N --out clip.vtt

Exit codes: 0 written; 2 the command line is wrong; 3 a file could not be understood; 4 the captions could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description('Captions for a clip: force now and peak so far, and the breaks at their instants.')
    .argument('[log...]', 'logs of the specimens that the clip shows')
    .requiredOption(
      '--out <file>',
      'file to write, as .vtt or .srt; - for WebVTT on standard output',
      captionFile,
    )
    .addOption(
      new Option('--offset <s>', 'time in the clip at which the recording begins, below 0 if before it')
        .argParser(seconds)
        .conflicts('sync'),
    )
    .option('--sync <file>', 'where the recordings lie in the clip, by tenterhook sync')
    .option('--nudge <s>', 'shift all by so much, later for a positive one', seconds)
    .option(
      '--length <s>',
      'length of the clip; without it that of --sync, else until the result has been seen',
      lengthSeconds,
    )
    .option('--per-second <n>', 'how often the figures are renewed', perSecond, 2)
    .option('--json', 'say what was written as JSON')
  return addTargetOptions(command)
    .addHelpText('after', EXAMPLES)
    .action(async (files: string[], flags: CaptionFlags) =>
      done(await withTargets(files, flags, io, found => captions(found, flags, io))),
    )
}

async function captions(found: ClipTargets, flags: CaptionFlags, io: Io): Promise<ExitCode> {
  const places = await placeTargets(found, flags)
  if (!places.ok) return tell(io, places.problems, EXIT.input)
  const { placed, clipLengthS } = places.value
  const lengthS = flags.length ?? clipLengthS ?? endOf(placed)
  const { unit } = placed[0]!
  const cues = captionCues(
    placed.map(target => ({ ...target, name: placed.length > 1 ? target.name : null })),
    { lengthS, unit, perSecond: flags.perSecond },
  )
  if (cues.length === 0)
    return tell(
      io,
      [
        {
          where: flags.out,
          what: 'none of the recordings lies within the clip: there is nothing to caption.',
          cure: 'Check --offset and --length.',
        },
      ],
      EXIT.input,
    )
  const text = isVtt(flags.out)
    ? writeVtt(
        cues,
        `Force in ${unit}: now, and the peak so far. From ${placed.map(p => p.recording.name).join(', ')}.`,
      )
    : writeSrt(cues)
  const written = await writeWhole(flags.out, text)
  if (!written.ok) return tell(io, written.problems, EXIT.output)
  const breaks = cues.filter(c => c.breakOf !== null).length
  const { out } = besideOutput(flags.out, io)
  if (flags.json) out(`${JSON.stringify({ path: flags.out, cues: cues.length, breaks, lengthS })}\n`)
  else out(`${cues.length} captions, ${breaks} of them a break, written to ${flags.out}\n`)
  return EXIT.ok
}

const endOf = (placed: readonly PlacedTarget[]): number =>
  Math.max(0, ...placed.flatMap(({ placements }) => placements.map(p => clipTimeAt(p, p.toS) + RESULT_S)))

/** Standard output has no ending: it is WebVTT. */
const isVtt = (path: string): boolean => path === '-' || extname(path).toLowerCase() === '.vtt'

function captionFile(path: string): string {
  if (path !== '-' && !['.vtt', '.srt'].includes(extname(path).toLowerCase()))
    throw new InvalidArgumentError(
      'Captions are written as .vtt or .srt: give the file one of these endings.',
    )
  return path
}

function perSecond(word: string): number {
  const value = positive(word)
  if (value > MOST_PER_SECOND) throw new InvalidArgumentError(`It must be at most ${MOST_PER_SECOND}.`)
  return value
}

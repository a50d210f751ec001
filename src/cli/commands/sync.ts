import { basename } from 'node:path'
import { Command } from 'commander'
import { printable } from '../../core/printable.ts'
import type { Outcome } from '../../core/problem.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import { readSoundFile } from '../../publish/node/soundFile.ts'
import type { Placement, Sync } from '../../publish/sync/document.ts'
import { MOST_PPM } from '../../publish/sync/matchPattern.ts'
import { clipTimeAt, nudged, placedByHand, uncertaintyAt } from '../../publish/sync/place.ts'
import type { SoundEnvelope } from '../../publish/sync/soundEnvelope.ts'
import { type SyncTarget, syncClip } from '../../publish/sync/syncClip.ts'
import { clipTimeWords, secondsWords, sureWords } from '../../publish/sync/words.ts'
import { besideOutput, writeWhole } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { positive } from '../logOptions.ts'
import { progress } from '../progress.ts'
import type { ClipTargets } from '../publish/clipTarget.ts'
import { seconds } from '../publish/seconds.ts'
import { addTargetOptions, type TargetFlags } from '../publish/targetOptions.ts'
import { withTargets } from '../publish/withTargets.ts'
import { tell } from '../tell.ts'

interface SyncFlags extends TargetFlags {
  readonly out?: string
  readonly offset?: number
  readonly nudge?: number
  readonly accept?: true
  readonly clockPpm: number
  readonly json?: true
}

const EXAMPLES = `
Tap the rig three times, unevenly, before you pull: the taps are spikes in the log and clicks in the sound. The breaks
are listened for, too. Times are the clip's own, whatever its frame rate.

Examples:
  tenterhook sync clip.wav paste-3.csv                     where in the clip the recording begins, and how sure that is
  tenterhook sync clip.mp4 paste-1.csv paste-2.csv --out clip.sync.json   two specimens in one clip; needs ffmpeg
  tenterhook sync clip.mp4 --study Handles --only "paste 1" --only "paste 2" --out clip.sync.json
  tenterhook sync clip.wav paste-3.csv --nudge 0.04 --out clip.sync.json  the place found, moved by hand
  tenterhook sync clip.wav paste-3.csv --offset 12.4 --out clip.sync.json placed by hand alone

Exit codes: 0 every log has a place that is confident or accepted; 1 some have not; 2 the command line is wrong; 3 a file could not be understood; 4 the document could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description('Finds where recordings lie in a clip by its sound: taps on the rig, and breaks.')
    .argument('<sound>', 'sound of the clip as WAV; with ffmpeg installed, any clip')
    .argument('[log...]', 'logs of the specimens that the clip may show')
    .option('--out <file>', 'write the places as a document that captions and overlay take')
    .option('--offset <s>', 'place it by hand: the time in the clip at which the recording begins', seconds)
    .option(
      '--nudge <s>',
      'shift what was found by so much, later for a positive one, and accept it',
      seconds,
    )
    .option('--accept', 'take places that are likely but not confident')
    .option('--clock-ppm <n>', 'greatest difference of the two clocks, in millionths', positive, MOST_PPM)
    .option('--json', 'the document itself')
  return addTargetOptions(command)
    .addHelpText('after', EXAMPLES)
    .action(async (sound: string, files: string[], flags: SyncFlags) =>
      done(await withTargets(files, flags, io, found => sync(sound, found, flags, io))),
    )
}

async function sync(path: string, { targets }: ClipTargets, flags: SyncFlags, io: Io): Promise<ExitCode> {
  if (flags.offset !== undefined && targets.length > 1) {
    io.err('tenterhook: one --offset cannot place several specimens; --only names one of a study.\n')
    return EXIT.usage
  }
  const sound = await openSound(path, io)
  if (!sound.ok) return tell(io, sound.problems, EXIT.input)
  const found = placed(basename(path), targets, sound.value, flags)
  if (flags.out !== undefined) {
    const written = await writeWhole(flags.out, `${JSON.stringify(found, null, 2)}\n`)
    if (!written.ok) return tell(io, written.problems, EXIT.output)
  }
  besideOutput(flags.out, io).out(flags.json ? `${JSON.stringify(found)}\n` : syncText(found))
  const all = found.notPlaced.length === 0 && found.placements.every(p => p.accepted)
  return all ? EXIT.ok : EXIT.doubtful
}

/** The sound of a file; an interrupt from the keyboard ends the reading, and ffmpeg with it. */
async function openSound(path: string, io: Io): Promise<Outcome<SoundEnvelope>> {
  const stop = new AbortController()
  const onInterrupt = (): void => stop.abort()
  process.once('SIGINT', onInterrupt)
  const shown = progress(io, `listening to ${printable(basename(path))}`)
  try {
    return await readSoundFile(path, {
      signal: stop.signal,
      onProgress: (done, all) => shown.tell(done, all),
    })
  } finally {
    shown.end()
    process.removeListener('SIGINT', onInterrupt)
  }
}

function placed(name: string, targets: readonly SyncTarget[], sound: SoundEnvelope, flags: SyncFlags): Sync {
  const found = syncClip(flags.offset === undefined ? targets : [], sound, {
    name,
    mostPpm: flags.clockPpm,
    accept: flags.accept === true,
  })
  const { offset, nudge } = flags
  const placements =
    offset === undefined ? found.placements : targets.map(t => placedByHand(t.recording, offset))
  return { ...found, placements: nudge === undefined ? placements : placements.map(p => nudged(p, nudge)) }
}

function syncText({ clip, placements, notPlaced }: Sync): string {
  const heard = clip.transients === 1 ? '1 click' : `${clip.transients} clicks`
  const lines = [`${printable(clip.name)}: ${clipTimeWords(clip.lengthS)} long, ${heard} heard`]
  for (const placement of placements) lines.push('', ...placementLines(placement))
  for (const { recording, why } of notPlaced)
    lines.push('', `${printable(recording.name)}: not placed. ${why}`)
  return `${lines.join('\n')}\n`
}

function placementLines(placement: Placement): string[] {
  const { recording, fromS, toS, offsetS, nudgeS, matched, unheard } = placement
  const nudge = nudgeS === 0 ? '' : `, nudged by ${plainNumber(nudgeS, 3)} s`
  return [
    printable(recording.name),
    `  begins at  ${clipTimeWords(offsetS)}${doubtWords(uncertaintyAt(placement, fromS))}${nudge}`,
    `  ends at    ${clipTimeWords(clipTimeAt(placement, toS))}${doubtWords(uncertaintyAt(placement, toS))}`,
    ...clockLines(placement),
    `  sure?      ${sureWords(placement)}`,
    ...matched.map(
      m =>
        `  ${m.what.padEnd(9)}  ${clipTimeWords(m.clipS)} in the clip, ${plainNumber(m.recordingS, 3)} s in the log, ${plainNumber(1000 * m.residualS, 0)} ms off`,
    ),
    ...(placement.accepted ? [] : ['  then       --accept takes it as it is, --nudge moves it']),
    ...(unheard.length === 0 ? [] : [`  not heard  ${unheardWords(unheard)}`]),
  ]
}

const doubtWords = (uncertaintyS: number | null): string =>
  uncertaintyS === null ? '' : ` ± ${secondsWords(uncertaintyS)}`

function clockLines({ ratePpm, rateUncertaintyPpm }: Placement): string[] {
  if (rateUncertaintyPpm === null) return []
  const doubt = plainNumber(rateUncertaintyPpm, 0)
  if (Math.abs(ratePpm) <= rateUncertaintyPpm)
    return [`  clocks     no difference seen, to ± ${doubt} millionths`]
  return [
    `  clocks     the clip's runs ${plainNumber(Math.abs(ratePpm), 0)} ± ${doubt} millionths ${ratePpm < 0 ? 'slow' : 'fast'}`,
  ]
}

function unheardWords(unheard: Placement['unheard']): string {
  return unheard.map(u => `${u.what} at ${plainNumber(u.recordingS, 2)} s`).join(', ')
}

import { Command, Option } from 'commander'
import { type Captured, openSession, roomOn, type Session, type Source } from '../../capture/index.ts'
import { pretendKinds } from '../../capture/pretend/index.ts'
import type { Rig } from '../../core/calibration/rig.ts'
import { fileProblem } from '../../core/fileProblem.ts'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { Reading } from '../../core/reading/document.ts'
import { logsIn, type Recording } from '../../core/recording.ts'
import type { Kept } from '../../server/desk/safekeeping.ts'
import type { RecordingEntry, Store } from '../../store/index.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { hostAndPort, secondsUpTo } from '../lineOptions.ts'
import { addLogOptions, logOptionsOf, positive, shownUnit, wholeNumber } from '../logOptions.ts'
import { STORE_OPTION, withTidyStore } from '../openStore.ts'
import { forceN } from '../quantity.ts'
import { readingText } from '../readingText.ts'
import { planOf, type RecordFlags, sourceOf } from '../record/flags.ts'
import { keepInStore } from '../record/keepInStore.ts'
import { waitForKeys } from '../record/keys.ts'
import { readout } from '../record/readout.ts'
import { beeper, findSpeaker, speakersLookedFor, speech } from '../record/sound.ts'
import { tell, toldText } from '../tell.ts'

/** As much as a session keeps of what came before a recording. */
const MOST_KEPT_BEFORE_S = 60

const EXAMPLES = `
Recording begins at once, or with --arm when the force rises; what came just before is kept. It goes on over breaks,
unloads and re-grips until Ctrl-C (or q), the end of the input, or --finish-after. Key z takes a new zero for the
figures on the screen. A second Ctrl-C leaves at once: what is on the disk is taken in by the next command.

Where the disk takes no more, recording goes on in memory and is written as soon as there is room. The command does not
end before the recording is in the store, with a terminal or without one, unless Ctrl-C is pressed twice more. --spare names
a folder, best on another disk, that is used then, and left for: tenterhook import FILE.journal

Examples:
  tenterhook record --port /dev/ttyUSB0 --specimen "paste 3" --study "Carrier bags" --variant paste
  tenterhook record --port COM3 --baud 9600 --arm --beep --capacity 500N
  tenterhook record --tcp 192.168.4.1:3333 --unit kgf
  tenterhook record --pretend hot-melt --seed 7 --speed 10

Exit codes: 0 recorded; 2 the command line is wrong; 3 the line cannot be opened, or gave no sample; 4 the store cannot be
written, or the recording is not in it: where it is instead is told.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description(
      'Records from a rig: every sample is on the disk within a fifth of a second. It only listens.',
    )
    .optionsGroup('Where the samples come from (one of these):')
    .option('--port <name>', 'serial port, as in COM3, /dev/ttyUSB0 or /dev/tty.usbserial-1')
    .option('--baud <rate>', 'its speed (115200 unless given)', wholeNumber(50))
    .option('--tcp <host:port>', 'lines over the network', hostAndPort)
    .option('--stdin', 'lines from standard input')
    .addOption(new Option('--pretend <kind>', 'a rig that is not there').choices(pretendKinds))
    .option('--seed <n>', 'which pretend pull', wholeNumber(0), 1)
    .option('--speed <times>', 'how many times as fast the pretend rig pulls', positive, 1)
    .optionsGroup('What is recorded:')
    .option('--study <name>', 'study of the specimen')
    .option('--variant <name>', 'variant of the specimen')
    .option('--specimen <name>', 'name of the specimen; several recordings may be of one')
    .option('--operator <name>', 'who pulls')
    .option('--elements <n>', 'how many equal elements the specimen has', wholeNumber(1))
    .optionsGroup('When it begins and ends:')
    .option('--arm', 'begin when the force rises, not at once')
    .option(
      '--start-at <force>',
      'the force that begins it, as in 5N (chosen from the noise unless given)',
      forceN,
    )
    .option('--keep-before <s>', 'seconds kept from before the beginning', secondsUpTo(MOST_KEPT_BEFORE_S), 5)
    .option(
      '--finish-after <s>',
      'finish by itself after so long at rest, never before the last pull',
      secondsUpTo(86_400),
    )
    .option('--pulls <n>', 'pulls expected of the specimen, for --finish-after', wholeNumber(1), 1)
    .optionsGroup('Rig and output:')
    .option('--rig <file>', 'description of the rig, with capacity and calibration')
    .option('--capacity <force>', 'greatest force that the cell may read, as in 500N', forceN)
    .option('--ask-rate <hz>', 'rate asked of a device that speaks the line protocol', positive)
    .option('--show <unit>', 'unit to show forces in, instead of that of the line', shownUnit)
    .option('--beep', 'beep at breaks and alarms')
    .option('--spare <dir>', 'folder for the recording where the disk of the store takes no more')
    .option('--say', 'speak breaks, peaks and alarms')
    .option(...STORE_OPTION)
    .option('--json', 'one JSON object at the end')
  return addLogOptions(command)
    .addHelpText('after', EXAMPLES)
    .action(async (flags: RecordFlags) => done(await record(flags, io)))
}

async function record(flags: RecordFlags, io: Io): Promise<ExitCode> {
  const source = sourceOf(flags)
  if (!source.ok) return tell(io, source.problems, EXIT.usage)
  const rig = await rigOf(flags)
  if (!rig.ok) return tell(io, rig.problems, EXIT.input)
  // It stays open all the time: what would refuse the recording at its end refuses it now, and nobody puts another
  // store in its place meanwhile.
  return withTidyStore(io, flags.store, store => recordInto(store, source.value, rig.value, flags, io))
}

async function recordInto(
  store: Store,
  source: Source,
  rig: Rig | null,
  flags: RecordFlags,
  io: Io,
): Promise<ExitCode> {
  const { journalsFolder } = await import('../../server/storeCaptured.ts')
  const journals = journalsFolder(store.folder)
  const unfit = await unfitFolders(store, flags)
  if (unfit) return tell(io, [unfit], EXIT.output)

  const opened = await openSession({
    source,
    journals,
    log: logOptionsOf(flags),
    capacityN: flags.capacity ?? null,
    rig: rig === null ? null : { id: null, document: rig },
    askRateHz: flags.askRate ?? null,
    makes: 'short',
  })
  if (!opened.ok) return tell(io, opened.problems, EXIT.input)
  const captured = await recordWith(opened.value, flags, io)
  // The line and the disk may hang: who asks twice is not kept waiting for them.
  if (captured === null) process.exit(EXIT.output)
  await opened.value.close()
  if (!captured.ok) return tell(io, captured.problems, EXIT.input)
  const kept = await keepInStore(store, captured.value, { spare: flags.spare ?? null, io })
  if (kept.entry === null) return EXIT.output
  // Where it could not be read at all, that is told below.
  if (kept.reading?.ok) tell(io, kept.problems, EXIT.output)
  const saved = {
    entry: kept.entry,
    captured: captured.value,
    read: await readOf(store, kept, captured.value),
  }
  io.out(flags.json ? `${JSON.stringify(savedObject(saved))}\n` : savedText(saved, flags, io))
  return EXIT.ok
}

/** Why the folders of the recording are of no use, or too small; `null` where they will do. */
async function unfitFolders(store: Store, { spare, askRate, rate }: RecordFlags): Promise<Problem | null> {
  const { mkdir, access, constants } = await import('node:fs/promises')
  for (const folder of [store.folder, ...(spare === undefined ? [] : [spare])]) {
    try {
      await mkdir(folder, { recursive: true, mode: 0o700 })
      await access(folder, constants.W_OK)
    } catch (error) {
      return fileProblem(folder, error, 'writing')
    }
  }
  return (await roomOn(store.folder, askRate ?? rate ?? null)).refusal
}

/** Runs until it is ended by a key, a signal, the end of the input or by itself; `null`: left at once, journal kept. */
async function recordWith(session: Session, flags: RecordFlags, io: Io): Promise<Outcome<Captured> | null> {
  const keys = waitForKeys(process, { withTerminal: !flags.stdin && io.errIsTerminal })
  const screen = readout({
    io,
    keys: keys.areRead ? 'z new zero   q or Ctrl-C finish' : 'Ctrl-C finish',
    unit: flags.show ?? null,
  })
  const sounds = soundsOf(flags, session, io)
  const ended = new Promise<'end' | Captured>(resolve => {
    session.subscribe(message => {
      screen.take(message)
      for (const sound of sounds) sound(message)
      if (message.kind === 'captured') resolve(message.captured)
      if (message.kind === 'closed') resolve('end')
    })
    if (session.snapshot().line === 'closed') resolve('end')
  })
  const plan = planOf(flags)
  const waits = flags.arm === true || flags.startAt !== undefined
  // What is piped in comes at once: on a busy machine much of it before the recording has begun.
  const all = { ...plan, keepBeforeS: flags.stdin && !waits ? MOST_KEPT_BEFORE_S : plan.keepBeforeS }
  const begun = await (waits ? session.arm(plan) : session.start(all))
  if (!begun.ok) {
    keys.end()
    return begun
  }
  keys.onZero(() => void session.zero({ anyway: true }))
  if (flags.spare !== undefined) goOnElsewhere(session, flags.spare, io)
  const why = await Promise.race([ended, keys.finish])
  if (typeof why === 'object') {
    keys.end()
    screen.end()
    return { ok: true, value: why }
  }
  const journal = session.journal ?? 'its journal'
  // A second Ctrl-C while it is being finished leaves at once.
  const finished = await Promise.race([session.finish(), keys.leave])
  keys.end()
  screen.end()
  if (finished !== 'leave') return finished
  const { alarms } = session.snapshot()
  const held = alarms.find(({ code }) => code === 'not-on-disk')
  const rest = held
    ? `What was on the disk by then stands in ${journal}; what came after it is lost (${held.what})`
    : `What was recorded stands in ${journal}, and is taken in by the next command.`
  io.err(`tenterhook: left at once. ${rest}\n`)
  return null
}

/** Uses the other folder as soon as the disk takes no more. */
function goOnElsewhere(session: Session, spare: string, io: Io): void {
  session.subscribe(message => {
    if (message.kind !== 'alarm' || message.alarm.code !== 'not-on-disk' || message.alarm.over) return
    void session.moveJournal(spare).then(problem => {
      if (problem) tell(io, [problem], EXIT.output)
      else io.err(`tenterhook: the recording goes on in ${session.journal ?? spare}\n`)
    })
  })
}

function soundsOf(flags: RecordFlags, session: Session, io: Io) {
  const sounds = []
  if (flags.beep) sounds.push(beeper(io))
  if (flags.say) {
    const speaker = findSpeaker(io.env)
    const unitOf = () => flags.show ?? session.snapshot().figures.unit ?? 'N'
    if (speaker) sounds.push(speech(speaker, unitOf))
    else
      io.err(
        `tenterhook: nothing can be spoken: none of ${speakersLookedFor()} is installed. --beep needs none.\n`,
      )
  }
  return sounds
}

async function rigOf({ rig }: RecordFlags): Promise<Outcome<Rig | null>> {
  if (rig === undefined) return { ok: true, value: null }
  const { openRig } = await import('../rigFile.ts')
  return openRig(rig)
}

/** A reading, and the samples that it is of; `null` where those were too many to be read at once. */
type Read = Outcome<{ readonly recording: Recording | null; readonly reading: Reading }>

/** How the specimen reads by now, of all its recordings; a recording of no specimen by itself. */
async function readOf(
  store: Store,
  { entry, reading }: Pick<Kept, 'entry' | 'reading'>,
  { recording }: Captured,
): Promise<Read> {
  if (entry?.specimen && recording !== null) {
    const { readingShownWith } = await import('../../server/specimenReading.ts')
    return readingShownWith(store, entry)
  }
  return reading?.ok ? fine({ recording, reading: reading.value }) : (reading ?? wrong())
}

interface Saved {
  readonly entry: RecordingEntry
  readonly captured: Captured
  readonly read: Read
}

const savedObject = ({ entry, captured, read }: Saved) => ({
  recording: {
    id: entry.id,
    study: entry.study?.name ?? null,
    specimen: entry.specimen?.name ?? null,
    startedAt: entry.startedAt,
    samples: entry.samples,
    sha256: entry.sha256,
    state: entry.state,
  },
  // Of a long recording they are not gone through twice.
  troubles: captured.recording === null ? null : captured.troubles,
  reading: read.ok ? read.value.reading : null,
  problems: read.ok ? [] : read.problems,
})

function savedText({ entry, read }: Saved, { show }: RecordFlags, io: Io): string {
  const head = `${entry.id}  saved, ${entry.samples} samples\n`
  if (read.ok && read.value.recording !== null) {
    const { recording, reading } = read.value
    const logs = logsIn(recording.segments)
    const of = entry.specimen ? printable(entry.specimen.name) : ''
    const together = logs > 1 ? `${of} reads by its ${logs} recordings together:\n` : ''
    return `${head}${together}${readingText(recording, reading, { io, show: show ?? null })}`
  }
  return `${head}${(read.ok ? [] : read.problems).map(problem => `Not read: ${toldText(problem)}\n`).join('')}`
}

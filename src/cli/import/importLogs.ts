import { createHash } from 'node:crypto'
import { readFile, stat } from 'node:fs/promises'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import { withoutEnding } from '../../core/withoutEnding.ts'
import {
  type LogOptions,
  mayBeSeveral,
  partOptions,
  type ReadPart,
  readEach,
  readLog,
  startedAtOf,
} from '../../logs/index.ts'
import type { RecordingEntry, Store } from '../../store/index.ts'
import { fileProblem, nameOfInput, pathOfInput } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { type LogFlags, logOptionsOf } from '../logOptions.ts'
import { progress } from '../progress.ts'
import { areApart, tablesTold } from '../tables.ts'
import { tell } from '../tell.ts'

export interface ImportFlags extends LogFlags {
  readonly store?: string
  readonly json?: true
  readonly study?: string
  readonly variant?: string
  readonly specimen?: string
  /** `undefined`: as the names of the tables say. */
  readonly each?: boolean
  readonly all?: true
  readonly fileTimes?: true
  readonly rig?: string
}

type Taken = { readonly file: string } & (
  | { readonly id: string; readonly isNew: boolean; readonly samples: number; readonly sha256: string }
  | { readonly problems: readonly Problem[] }
)

/** Takes logs into the store, each as a recording of its own, and reads the specimens that got one. */
export async function importLogs(
  store: Store,
  files: readonly string[],
  flags: ImportFlags,
  io: Io,
): Promise<ExitCode> {
  const rigId = await rigIdOf(store, flags.rig)
  if (!rigId.ok) return tell(io, rigId.problems, EXIT.input)
  const into = flags.study === undefined ? null : await intoStudy(store, flags.study)
  const taken: Taken[] = []
  const specimens = new Set<string>()
  const shown = progress(io, `importing ${files.length} logs`)
  for (const [at, file] of files.entries()) {
    shown.tell(at, files.length)
    const outcomes = await importFile(store, file, flags, rigId.value, io)
    for (const { of, outcome } of outcomes) {
      if (!outcome.ok) {
        shown.end()
        taken.push({ file: of, problems: outcome.problems })
        tell(io, outcome.problems, EXIT.input)
        continue
      }
      const { entry, isNew } = outcome.value
      if (entry.specimen) specimens.add(entry.specimen.id)
      taken.push({ file: of, id: entry.id, isNew, samples: entry.samples, sha256: entry.sha256 })
      if (!flags.json && files.length <= 50)
        io.out(
          `${printable(of, 80)}  ${entry.id}  ${isNew ? `${entry.samples} samples` : 'was there already'}\n`,
        )
    }
  }
  shown.end()
  await readSpecimens(store, specimens, io)
  const refused = taken.filter(t => 'problems' in t).length
  const known = taken.filter(t => 'isNew' in t && !t.isNew).length
  const summary = {
    ...(into === null ? {} : { study: flags.study, isNewStudy: into.isNew }),
    taken: taken.length - refused - known,
    known,
    refused,
  }
  if (flags.json) io.out(`${JSON.stringify({ ...summary, files: taken })}\n`)
  else
    io.out(
      `${summary.taken} taken in, ${known} there already, ${refused} refused${into === null ? '' : `; ${into.words}`}. Store: ${store.place}\n`,
    )
  return refused > 0 ? EXIT.input : EXIT.ok
}

/** What the logs are added to, in words: said, so that nobody adds to an earlier study unseen. */
async function intoStudy(store: Store, name: string): Promise<{ isNew: boolean; words: string }> {
  const study = await store.studies.byName(name)
  const words = `study “${printable(name, 80)}”`
  if (!study) return { isNew: true, words: `a new ${words}` }
  const before = (await store.specimens.list(study.id)).length
  return {
    isNew: false,
    words: `added to the ${words} of ${study.createdAt.slice(0, 10)}, which had ${before} ${before === 1 ? 'specimen' : 'specimens'}`,
  }
}

type Saved = Outcome<{ readonly entry: RecordingEntry; readonly isNew: boolean }>

/** One log, or one table of a file that is taken in for itself. */
interface Given {
  readonly file: string
  readonly name: string
  readonly bytes: Uint8Array
  readonly recording: Recording
  /** What its specimen is called unless told. */
  readonly specimen: string
  readonly logOptions: LogOptions
}

/** A file as it is, or each of its tables where that is asked for or each has a name; it is said which. */
async function importFile(
  store: Store,
  file: string,
  flags: ImportFlags,
  rigId: string | null,
  io: Io,
): Promise<{ readonly of: string; readonly outcome: Saved }[]> {
  const name = nameOfInput(file)
  const bytes = await wholeFile(file)
  if (!bytes.ok) return [{ of: file, outcome: bytes }]
  if (isJournal(bytes.value)) return [{ of: file, outcome: await importJournal(store, file) }]
  const logOptions = logOptionsOf(flags)
  const recording = readLog(bytes.value, name, logOptions)
  const mayBeParted = flags.specimen === undefined && (flags.each ?? mayBeSeveral(recording))
  const parts = mayBeParted ? readEach(bytes.value, name, logOptions) : []
  const isEach = parts.length > 1 && areApart(parts, flags.each)
  if (flags.each === true && parts.length < 2) io.err(`${printable(name)}: one table only.\n`)
  if (parts.length > 1)
    io.err(`${printable(name)}: ${tablesTold(parts, isEach, recording.ok, IMPORT_WORDS)}\n`)
  if (isEach) return importParts(store, { file, name, parts, logOptions }, flags, rigId)
  if (!recording.ok) return [{ of: file, outcome: recording }]
  const whole = { file, name, bytes: bytes.value, recording: recording.value, logOptions }
  return [
    { of: file, outcome: await saveLog(store, { ...whole, specimen: withoutEnding(name) }, flags, rigId) },
  ]
}

const IMPORT_WORDS = { done: 'taken in', does: 'takes in', asOne: '--no-each takes them as one' }

/** Each table as a log of its own: what is kept are the lines above all tables and its own, as UTF-8. */
async function importParts(
  store: Store,
  file: {
    readonly file: string
    readonly name: string
    readonly parts: readonly ReadPart[]
    readonly logOptions: LogOptions
  },
  flags: ImportFlags,
  rigId: string | null,
): Promise<{ readonly of: string; readonly outcome: Saved }[]> {
  const saved: { of: string; outcome: Saved }[] = []
  for (const [i, { part, name, recording }] of file.parts.entries()) {
    if (!recording.ok) {
      saved.push({ of: name, outcome: recording })
      continue
    }
    const bytes = new TextEncoder().encode(part.text)
    const given: Given = {
      file: file.file,
      name,
      bytes,
      recording: recording.value,
      specimen:
        part.title === null
          ? `${withoutEnding(file.name)} part ${i + 1}`
          : await freeName(store, flags.study, part.title, file.name, bytes),
      logOptions: partOptions(file.logOptions),
    }
    saved.push({ of: name, outcome: await saveLog(store, given, flags, rigId) })
  }
  return saved
}

/** The name of a table, with that of its file before it where the study has another specimen of that name. */
async function freeName(
  store: Store,
  studyName: string | undefined,
  title: string,
  fileName: string,
  bytes: Uint8Array,
): Promise<string> {
  const study = studyName === undefined ? null : await store.studies.byName(studyName)
  const there = study && (await store.specimens.list(study.id)).find(({ name }) => name === title)
  if (!there) return title
  const own = await store.recordings.bySha256(createHash('sha256').update(bytes).digest('hex'))
  const isOwn = own.some(({ specimen }) => specimen?.id === there.id)
  return isOwn ? title : `${withoutEnding(fileName)} ${title}`
}

async function saveLog(
  store: Store,
  { file, bytes, recording, specimen, logOptions }: Given,
  flags: ImportFlags,
  rigId: string | null,
): Promise<Saved> {
  const named =
    flags.study === undefined
      ? null
      : await store.specimens.named({
          study: flags.study,
          variant: flags.variant ?? null,
          specimen: flags.specimen ?? specimen,
        })
  if (named && !named.ok) return named
  return store.recordings.save({
    recording,
    log: bytes,
    source: 'log',
    startedAt: startedAtOf(recording) ?? (flags.fileTimes ? await startByFile(file, recording) : null),
    logOptions,
    specimenId: named?.value.id ?? null,
    rigId,
  })
}

/** A journal of a capture, saved as a file where it could not be stored: it knows its specimen itself. */
const isJournal = (bytes: Uint8Array): boolean =>
  new TextDecoder('latin1').decode(bytes.subarray(0, JOURNAL_HEAD.length)) === JOURNAL_HEAD
const JOURNAL_HEAD = 'tenterhook journal '

async function importJournal(
  store: Store,
  file: string,
): Promise<Outcome<{ entry: RecordingEntry; isNew: boolean }>> {
  const { journalInUse } = await import('../../capture/index.ts')
  const { takeInHere } = await import('../../server/storeCaptured.ts')
  const inUse = await journalInUse(file)
  return inUse ? wrong(inUse) : takeInHere(store)(file, 'recovered')
}

async function rigIdOf(store: Store, path: string | undefined): Promise<Outcome<string | null>> {
  if (path === undefined) return fine(null)
  const { keepRigFile } = await import('../rigFile.ts')
  const rig = await keepRigFile(store, path)
  return rig.ok ? fine(rig.value.id) : rig
}

/** A log is written until it ends: its start lies its length before. A file that was copied may have another time. */
async function startByFile(file: string, { timeS }: Recording): Promise<string> {
  const { mtimeMs } = await stat(file)
  const lengthS = (timeS.at(-1) ?? 0) - (timeS[0] ?? 0)
  return new Date(mtimeMs - 1000 * lengthS).toISOString()
}

async function wholeFile(path: string): Promise<Outcome<Uint8Array>> {
  try {
    return fine(await readFile(await pathOfInput(path)))
  } catch (error) {
    // Node's buffers end at 2 GiB: such a log is a day of samples, not a pull.
    if ((error as { code?: unknown }).code === 'ERR_FS_FILE_TOO_LARGE')
      return wrong({ where: path, what: 'it is larger than 2 GiB.', cure: 'Cut the log into parts.' })
    return wrong(fileProblem(path, error))
  }
}

/** A reading for each specimen that got a log; what cannot be read yet (raw counts) is told and stays in the store. */
async function readSpecimens(store: Store, specimenIds: ReadonlySet<string>, io: Io): Promise<void> {
  if (specimenIds.size === 0) return
  const { keepReading } = await import('../../server/specimenReading.ts')
  for (const id of specimenIds) {
    const read = await keepReading(store, id)
    if (!read.ok) tell(io, read.problems, EXIT.ok)
  }
}

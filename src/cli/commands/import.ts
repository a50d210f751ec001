import { readFile, stat } from 'node:fs/promises'
import { basename } from 'node:path'
import { Command } from 'commander'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, type Problem, wrong } from '../../core/problem.ts'
import type { Recording } from '../../core/recording.ts'
import { readLog, startedAtOf } from '../../logs/index.ts'
import type { RecordingEntry, Store } from '../../store/index.ts'
import { fileProblem, readBytes } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { addLogOptions, type LogFlags, logOptionsOf } from '../logOptions.ts'
import { STORE_OPTION, withStore } from '../openStore.ts'
import { progress } from '../progress.ts'
import { tell } from '../tell.ts'

interface ImportFlags extends LogFlags {
  readonly store?: string
  readonly json?: true
  readonly study?: string
  readonly variant?: string
  readonly specimen?: string
  readonly all?: true
  readonly fileTimes?: true
  readonly rig?: string
}

const EXAMPLES = `
Examples:
  tenterhook import *.csv                               loose: to be placed on specimens later
  tenterhook import --study Handles --variant paste paste-*.csv   a specimen for each, named as its log
  tenterhook import --study Handles --specimen "stitch 2" a.csv b.csv   both of one specimen, in order
  tenterhook import --study Handles --rig rig.json *.csv          with the rig and its calibration
  tenterhook import handles.zip                         a data package: its study, logs, readings, rig and photos
  tenterhook import left.journal                        a capture that could not be stored when it ended
  tenterhook import --all everything.jsonl.gz           all of another store, as export --all wrote it

Exit codes: 0 all are in the store now (some may have been before); 2 the command line is wrong;
3 some could not be understood, the others are in; 4 the store could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  const command = new Command()
    .description(
      'Takes logs or data packages into the store. What is there already, by the hash of its bytes, is not taken twice.',
    )
    .argument('<file...>', 'logs of any shape, journals of captures, or data packages (a folder or a zip)')
    .option('--study <name>', 'study they belong to; made if it is new')
    .option('--variant <name>', 'variant of the study; made if it is new')
    .option('--specimen <name>', 'specimen they all belong to; else each log is one, named after its file')
    .option(
      '--file-times',
      'logs whose stamps carry no date: take when the file was last written for their end',
    )
    .option('--rig <file>', 'rig that the logs were recorded on, with its calibrations')
    .option('--all', 'the files are whole stores, as export --all writes them')
    .option('--json', 'one JSON document')
    .option(...STORE_OPTION)
  return addLogOptions(command)
    .addHelpText('after', EXAMPLES)
    .action(async (files: string[], flags: ImportFlags, self: Command) => {
      if (flags.study === undefined && (flags.variant !== undefined || flags.specimen !== undefined))
        self.error('error: --variant and --specimen need --study', { exitCode: EXIT.usage })
      const packages = flags.all ? [] : await packagesAmong(files)
      if (packages.length > 0 && (packages.length < files.length || flags.study !== undefined))
        self.error('error: a data package is imported by itself: without logs, and without --study', {
          exitCode: EXIT.usage,
        })
      done(
        await withStore(io, flags.store, store => {
          if (flags.all) return importStores(store, files, flags, io)
          return packages.length > 0
            ? importPackages(store, packages, flags, io)
            : importLogs(store, files, flags, io)
        }),
      )
    })
}

async function packagesAmong(files: readonly string[]): Promise<string[]> {
  const { isPackage } = await import('../package/nodePackage.ts')
  const are = await Promise.all(files.map(isPackage))
  return files.filter((_, i) => are[i])
}

async function importPackages(
  store: Store,
  paths: readonly string[],
  flags: ImportFlags,
  io: Io,
): Promise<ExitCode> {
  const { openPackage } = await import('../package/nodePackage.ts')
  const { sha256 } = await import('../../server/hash.ts')
  const { importPackage } = await import('../../server/importPackage/importPackage.ts')
  let code: ExitCode = EXIT.ok
  for (const path of paths) {
    const opened = await openPackage(path)
    if (!opened.ok) {
      code = tell(io, opened.problems, EXIT.input)
      continue
    }
    const shown = progress(io, `importing ${printable(path, 60)}`)
    const imported = await importPackage(store, opened.value.source, sha256, shown.tell)
    shown.end()
    await opened.value.close()
    if (!imported.ok) {
      code = tell(io, imported.problems, EXIT.input)
      continue
    }
    const { study, specimens, recordings, known, readings, rigs, told } = imported.value
    for (const line of told) io.err(`tenterhook: ${printable(line, 300)}\n`)
    if (flags.json) io.out(`${JSON.stringify({ file: path, ...imported.value })}\n`)
    else {
      const rigText = rigs.length === 0 ? '' : `, rig ${rigs.map(name => `“${printable(name)}”`).join(', ')}`
      io.out(
        `${printable(path, 80)}: ${study.isNew ? 'new study' : 'study'} “${printable(study.name)}”, ${specimens} specimens: ${recordings} recordings taken in, ${known} there already, ${readings} readings${rigText}.\n`,
      )
    }
  }
  return code
}

type Taken = { readonly file: string } & (
  | { readonly id: string; readonly isNew: boolean; readonly samples: number; readonly sha256: string }
  | { readonly problems: readonly Problem[] }
)

async function importLogs(
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
    const outcome = await importLog(store, file, flags, rigId.value)
    if (!outcome.ok) {
      shown.end()
      taken.push({ file, problems: outcome.problems })
      tell(io, outcome.problems, EXIT.input)
      continue
    }
    const { entry, isNew } = outcome.value
    if (entry.specimen) specimens.add(entry.specimen.id)
    taken.push({ file, id: entry.id, isNew, samples: entry.samples, sha256: entry.sha256 })
    if (!flags.json && files.length <= 50)
      io.out(
        `${printable(file, 80)}  ${entry.id}  ${isNew ? `${entry.samples} samples` : 'was there already'}\n`,
      )
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

async function importLog(
  store: Store,
  file: string,
  flags: ImportFlags,
  rigId: string | null,
): Promise<Outcome<{ entry: RecordingEntry; isNew: boolean }>> {
  const name = file === '-' ? 'standard input' : basename(file)
  const bytes = await wholeFile(file)
  if (!bytes.ok) return bytes
  if (isJournal(bytes.value)) return importJournal(store, file)
  const logOptions = logOptionsOf(flags)
  const recording = readLog(bytes.value, name, logOptions)
  if (!recording.ok) return recording
  const specimen =
    flags.study === undefined
      ? null
      : await store.specimens.named({
          study: flags.study,
          variant: flags.variant ?? null,
          specimen: flags.specimen ?? name.replace(/\.[^.]+$/, ''),
        })
  if (specimen && !specimen.ok) return specimen
  return store.recordings.save({
    recording: recording.value,
    log: bytes.value,
    source: 'log',
    startedAt:
      startedAtOf(recording.value) ?? (flags.fileTimes ? await startByFile(file, recording.value) : null),
    logOptions,
    specimenId: specimen?.value.id ?? null,
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
  const { openRig } = await import('../rigFile.ts')
  const rig = await openRig(path)
  if (!rig.ok) return rig
  const { keepRig } = await import('../../server/desk/keepRig.ts')
  return keepRig(store, rig.value)
}

/** A log is written until it ends: its start lies its length before. A file that was copied may have another time. */
async function startByFile(file: string, { timeS }: Recording): Promise<string> {
  const { mtimeMs } = await stat(file)
  const lengthS = (timeS.at(-1) ?? 0) - (timeS[0] ?? 0)
  return new Date(mtimeMs - 1000 * lengthS).toISOString()
}

async function wholeFile(path: string): Promise<Outcome<Uint8Array>> {
  try {
    return path === '-' ? readBytes(path) : fine(await readFile(path))
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

async function importStores(
  store: Store,
  files: readonly string[],
  flags: ImportFlags,
  io: Io,
): Promise<ExitCode> {
  for (const file of files) {
    const imported = await store.care.importAll(file)
    if (!imported.ok) return tell(io, imported.problems, EXIT.input)
    const { added, known, renamed } = imported.value
    if (flags.json) io.out(`${JSON.stringify({ file, ...imported.value })}\n`)
    else {
      io.out(`${printable(file, 80)}: ${added} rows taken in, ${known} there already.\n`)
      for (const names of renamed) io.out(`  renamed: ${printable(names, 200)}\n`)
    }
  }
  return EXIT.ok
}

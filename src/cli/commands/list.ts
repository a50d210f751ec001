import { Command } from 'commander'
import { printable } from '../../core/printable.ts'
import { fine } from '../../core/problem.ts'
import type { RecordingEntry, RecordingFilter, Store } from '../../store/index.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { STORE_OPTION, withTidyStore } from '../openStore.ts'
import { tell } from '../tell.ts'
import { pen } from '../terminal.ts'

interface ListFlags {
  readonly store?: string
  readonly json?: true
  readonly study?: string
  readonly search?: string
  readonly setAside?: true
}

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description('Lists the recordings of the store, the oldest first.')
    .option('--study <name>', 'only those of this study, by its name or id')
    .option('--search <words>', 'only those with all these words in name, specimen, study, device or hash')
    .option('--set-aside', 'also those that were set aside')
    .option('--json', 'one JSON document')
    .option(...STORE_OPTION)
    .action(async (flags: ListFlags) =>
      done(await withTidyStore(io, flags.store, store => list(store, flags, io))),
    )
}

async function list(store: Store, flags: ListFlags, io: Io): Promise<ExitCode> {
  const { studyOf } = await import('../../server/publishedStudy.ts')
  const study = flags.study === undefined ? fine(null) : await studyOf(store, flags.study)
  if (!study.ok) return tell(io, study.problems, EXIT.input)
  const entries = await everyEntry(store, {
    ...(study.value === null ? {} : { studyId: study.value.id }),
    ...(flags.search === undefined ? {} : { search: flags.search }),
    withSetAside: flags.setAside === true,
  })
  if (flags.json) io.out(`${JSON.stringify({ recordings: entries.map(listed) })}\n`)
  else if (entries.length === 0) io.out(`No recordings in ${store.place}.\n`)
  else io.out(table(entries, io))
  return EXIT.ok
}

/** All that a filter finds, the oldest first. */
async function everyEntry(store: Store, filter: RecordingFilter): Promise<RecordingEntry[]> {
  const entries: RecordingEntry[] = []
  let after: string | null = null
  do {
    const page: Awaited<ReturnType<Store['recordings']['list']>> = await store.recordings.list({
      ...filter,
      limit: 1000,
      ...(after === null ? {} : { after }),
    })
    entries.push(...page.items)
    after = page.next
  } while (after !== null)
  return entries.reverse()
}

const listed = ({
  id,
  study,
  specimen,
  startedAt,
  addedAt,
  samples,
  sha256,
  state,
  setAside,
}: RecordingEntry) => ({
  id,
  study: study?.name ?? null,
  specimen: specimen?.name ?? null,
  startedAt,
  addedAt,
  samples,
  sha256,
  state: setAside === null ? state : 'set-aside',
})

const moment = (iso: string | null): string => iso?.slice(0, 16).replace('T', ' ') ?? 'not told'

function table(entries: readonly RecordingEntry[], io: Io): string {
  const draw = pen(io)
  const rows = entries.map(entry => [
    entry.id.slice(0, 12),
    moment(entry.startedAt),
    moment(entry.addedAt),
    printable(entry.study?.name ?? '–', 24),
    printable(entry.specimen?.name ?? '–', 24),
    String(entry.samples),
    entry.setAside === null ? entry.state : 'set aside',
    printable(entry.name, 40),
  ])
  const heads = ['id', 'recorded', 'taken in', 'study', 'specimen', 'samples', 'state', 'log']
  const widths = heads.map((head, c) => Math.max(head.length, ...rows.map(row => row[c]!.length)))
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, c) => (c === 5 ? cell.padStart(widths[c]!) : cell.padEnd(widths[c]!)))
      .join('  ')
      .trimEnd()
  return `${draw('strong', line(heads))}\n${rows.map(row => `${line(row)}\n`).join('')}`
}

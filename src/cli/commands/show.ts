import { Command } from 'commander'
import { printable } from '../../core/printable.ts'
import type { RecordingEntry, Store } from '../../store/index.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { STORE_OPTION, withTidyStore } from '../openStore.ts'
import { tell } from '../tell.ts'

interface ShowFlags {
  readonly store?: string
  readonly json?: true
}

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description('Shows a recording of the store: where it is from, whose it is, and how it reads.')
    .argument('<id>', 'id of the recording, or its first letters')
    .option('--json', 'one JSON document')
    .option(...STORE_OPTION)
    .action(async (id: string, flags: ShowFlags) =>
      done(await withTidyStore(io, flags.store, store => show(store, id, flags, io))),
    )
}

async function show(store: Store, id: string, flags: ShowFlags, io: Io): Promise<ExitCode> {
  const found = await store.recordings.get(id)
  if (!found.ok) return tell(io, found.problems, EXIT.input)
  const entry = found.value
  const { readingShownWith } = await import('../../server/specimenReading.ts')
  const read = await readingShownWith(store, entry)
  const notes = await store.notes.list({ kind: 'recording', id: entry.id })
  if (flags.json) {
    io.out(`${JSON.stringify({ ...entry, notes, reading: read.ok ? read.value.reading : null })}\n`)
    return EXIT.ok
  }
  io.out(`${facts(entry).join('\n')}\n`)
  for (const note of notes) io.out(`note        ${printable(note.text, 400)}\n`)
  if (!read.ok) return tell(io, read.problems, EXIT.input)
  const { readingText } = await import('../readingText.ts')
  const { recording, reading } = read.value
  io.out(`\n${readingText(recording, reading, { io, show: null })}`)
  return EXIT.ok
}

function facts(entry: RecordingEntry): string[] {
  const { study, specimen, setAside } = entry
  const lasting =
    entry.startS === null || entry.endS === null ? '' : `, ${(entry.endS - entry.startS).toFixed(1)} s`
  const rows: [string, string][] = [
    ['recording', entry.id],
    ['log', `${printable(entry.name)}, ${entry.logBytes} bytes as received`],
    ['sha256', entry.sha256],
    ['recorded', entry.startedAt ?? `not told by the log; added ${entry.addedAt}`],
    [
      'samples',
      `${entry.samples}${lasting}, force in ${entry.forceUnit ?? 'a unit that the log does not tell'}, time by ${entry.timeFrom}`,
    ],
    ['state', setAside === null ? entry.state : `set aside ${setAside.at}: ${printable(setAside.why, 200)}`],
    ...(entry.device === '' ? [] : [['device', printable(entry.device)] as [string, string]]),
    ['specimen', specimen && study ? `${printable(specimen.name)}, study ${printable(study.name)}` : 'none'],
  ]
  return rows.map(([name, value]) => `${name.padEnd(12)}${value}`)
}

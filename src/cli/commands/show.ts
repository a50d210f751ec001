import { Command } from 'commander'
import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { RecordingEntry, Store } from '../../store/index.ts'
import { commandWord } from '../commandWord.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { STORE_OPTION, withTidyStore } from '../openStore.ts'
import { tell } from '../tell.ts'

interface ShowFlags {
  readonly study?: string
  readonly store?: string
  readonly json?: true
}

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description(
      'Shows a recording of the store: where it is from, whose it is, and how it reads; or the recordings of a specimen.',
    )
    .argument('<id>', 'id of the recording, or its first letters; or the name of a specimen')
    .option('--study <name>', 'study of the specimen, by its name or id')
    .option('--json', 'one JSON document')
    .option(...STORE_OPTION)
    .action(async (id: string, flags: ShowFlags) =>
      done(await withTidyStore(io, flags.store, store => show(store, id, flags, io))),
    )
}

async function show(store: Store, asked: string, flags: ShowFlags, io: Io): Promise<ExitCode> {
  const found = await meant(store, asked, flags)
  if (!found.ok) return tell(io, found.problems, EXIT.input)
  const { readingShownWith } = await import('../../server/specimenReading.ts')
  const { readingText } = await import('../readingText.ts')
  const last = found.value.at(-1)
  for (const entry of found.value) {
    const notes = await store.notes.list({ kind: 'recording', id: entry.id })
    const read = flags.json || entry === last ? await readingShownWith(store, entry) : null
    if (flags.json) {
      io.out(`${JSON.stringify({ ...entry, notes, reading: read?.ok ? read.value.reading : null })}\n`)
      continue
    }
    io.out(`${entry === found.value[0] ? '' : '\n'}${facts(entry).join('\n')}\n`)
    for (const note of notes) io.out(`note        ${printable(note.text, 400)}\n`)
    // Recordings of one specimen have one reading, of all of them: it stands under the last.
    if (read === null) continue
    if (!read.ok) return tell(io, read.problems, EXIT.input)
    const { recording, reading } = read.value
    io.out(`\n${readingText(recording, reading, { io, show: null })}`)
  }
  return EXIT.ok
}

/** The recording of this id, or those of the one specimen of this name, in their order. */
async function meant(store: Store, asked: string, { study }: ShowFlags): Promise<Outcome<RecordingEntry[]>> {
  const byId = study === undefined ? await store.recordings.get(asked) : null
  if (byId?.ok) return fine([byId.value])
  const { studyOf } = await import('../../server/publishedStudy.ts')
  const only = study === undefined ? null : await studyOf(store, study)
  if (only?.ok === false) return only
  const named: { readonly id: string; readonly of: string }[] = []
  for (const one of only ? [only.value] : await store.studies.list())
    for (const { id, name } of await store.specimens.list(one.id))
      if (name === asked) named.push({ id, of: one.name })
  const [first, ...others] = named
  if (first === undefined)
    return (
      byId ??
      wrong({
        where: `specimen “${printable(asked)}”`,
        what: `the study “${printable(study ?? '')}” has none of this name.`,
        cure: 'See `tenterhook specimen list`.',
      })
    )
  const recordingsOf = async (id: string): Promise<RecordingEntry[]> =>
    (await store.recordings.list({ specimenId: id, limit: 1000 })).items.toSorted((a, b) => a.place - b.place)
  if (others.length > 0) {
    const lines = await Promise.all(
      named.map(async ({ id, of }) => {
        const ids = (await recordingsOf(id)).map(one => one.id)
        return `of “${printable(of, 40)}”: ${ids.length === 0 ? 'no recording' : ids.join(', ')}`
      }),
    )
    return wrong({
      where: `specimen “${printable(asked)}”`,
      what: `${named.length} specimens have this name (${lines.join('; ')}).`,
      cure: 'Give the id of a recording, or the study with --study.',
    })
  }
  const recordings = await recordingsOf(first.id)
  return recordings.length > 0
    ? fine(recordings)
    : wrong({
        where: `specimen “${printable(asked)}”`,
        what: 'it has no recording.',
        cure: `See it with \`tenterhook specimen list --study ${commandWord(first.of)}\`.`,
      })
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

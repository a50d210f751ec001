import { Command, Option } from 'commander'
import type { RecordingEntry, Store, StoredInChunks } from '../../store/index.ts'
import { besideOutput, throughOutput, writeWhole } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { STORE_OPTION, withTidyStore } from '../openStore.ts'
import { tell } from '../tell.ts'
import { writePieces } from '../writePieces.ts'

type Form = 'csv' | 'jsonl' | 'parquet' | 'log'

interface ExportFlags {
  readonly store?: string
  readonly as: Form
  readonly out?: string
  readonly all?: true
  readonly json?: true
}

const EXAMPLES = `
Examples:
  tenterhook export k3v9 > pull.csv                    samples: time_s, force_N and the other columns
  tenterhook export k3v9 --as log --out as-received.csv    the bytes of the log as they came
  tenterhook export --all --out everything.jsonl.gz    the whole store, to be taken in elsewhere with import --all

Exit codes: 0 written; 2 the command line is wrong; 3 no such recording, or it is damaged; 4 it could not be written.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description('Writes a recording of the store, or all that is in it.')
    .argument('[id]', 'id of the recording, or its first letters')
    .addOption(
      new Option('--as <form>', 'form of the samples; log: the bytes as received')
        .choices(['csv', 'jsonl', 'parquet', 'log'])
        .default('csv'),
    )
    .option('--out <file>', 'file to write, instead of standard output (which takes csv and jsonl only)')
    .option('--all', 'the whole store into one file')
    .option('--json', 'say what was written as JSON')
    .option(...STORE_OPTION)
    .addHelpText('after', EXAMPLES)
    .action(async (id: string | undefined, flags: ExportFlags, command: Command) => {
      if ((id === undefined) !== (flags.all === true))
        command.error('error: give either the id of a recording or --all', { exitCode: EXIT.usage })
      if (
        flags.out === undefined &&
        (flags.all || flags.json || flags.as === 'parquet' || flags.as === 'log')
      )
        command.error('error: --out FILE is needed here', { exitCode: EXIT.usage })
      done(
        await withTidyStore(
          io,
          flags.store,
          store =>
            id === undefined ? exportAll(store, flags.out ?? '', flags, io) : exportOne(store, id, flags, io),
          EXIT.input,
        ),
      )
    })
}

async function exportAll(store: Store, path: string, flags: ExportFlags, io: Io): Promise<ExitCode> {
  const written = await throughOutput(path, '.jsonl.gz', file => store.care.exportAll(file))
  const { out } = besideOutput(path, io)
  if (!written.ok) return tell(io, written.problems, EXIT.output)
  if (flags.json) out(`${JSON.stringify(written.value)}\n`)
  else out(`${written.value.rows} rows of ${store.place} written to ${path}\n`)
  return EXIT.ok
}

async function exportOne(store: Store, id: string, flags: ExportFlags, io: Io): Promise<ExitCode> {
  const found = await store.recordings.get(id)
  if (!found.ok) return tell(io, found.problems, EXIT.input)
  const { id: whole } = found.value
  if (flags.as === 'log')
    return written(await writePieces(flags.out ?? '', store.recordings.log(whole)), whole, flags, io)
  if (flags.as === 'parquet') return exportParquet(store, found.value, flags, io)
  const inChunks = await store.recordings.inChunks(whole)
  if (!inChunks.ok) return tell(io, inChunks.problems, EXIT.input)
  const pieces = await textOf(inChunks.value, flags.as)
  if (flags.out !== undefined) return written(await writePieces(flags.out, pieces), whole, flags, io)
  for await (const piece of pieces) io.out(piece)
  return EXIT.ok
}

/** Parquet is written whole: of a recording that memory is not there for, the other forms are left. */
async function exportParquet(
  store: Store,
  entry: RecordingEntry,
  flags: ExportFlags,
  io: Io,
): Promise<ExitCode> {
  const { tooLongToRead } = await import('../../server/readingMemory.ts')
  const tooLong = tooLongToRead([entry])
  if (tooLong)
    return tell(
      io,
      [{ ...tooLong, cure: 'Write it as csv or jsonl, which needs no such memory.' }],
      EXIT.input,
    )
  const loaded = await store.recordings.load(entry.id)
  if (!loaded.ok) return tell(io, loaded.problems, EXIT.input)
  const { writeParquet } = await import('../../logs/index.ts')
  return written(await writeWhole(flags.out ?? '', await writeParquet(loaded.value)), entry.id, flags, io)
}

async function textOf({ head, blocks }: StoredInChunks, as: 'csv' | 'jsonl'): Promise<AsyncIterable<string>> {
  const { writeCsvInBlocks, writeJsonLinesInBlocks } = await import('../../logs/index.ts')
  return as === 'csv' ? writeCsvInBlocks(head, blocks()) : writeJsonLinesInBlocks(head, blocks())
}

function written(
  outcome: Awaited<ReturnType<typeof writePieces>>,
  id: string,
  flags: ExportFlags,
  io: Io,
): ExitCode {
  if (!outcome.ok) return tell(io, outcome.problems, EXIT.output)
  if (flags.json)
    besideOutput(flags.out, io).out(`${JSON.stringify({ id, as: flags.as, path: outcome.value })}\n`)
  return EXIT.ok
}

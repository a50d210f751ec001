import { Command } from 'commander'
import { besideOutput, throughOutput } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { STORE_OPTION, withTidyStore } from '../openStore.ts'
import { tell } from '../tell.ts'

interface BackupFlags {
  readonly store?: string
  readonly json?: true
}

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description(
      'Copies the whole store, as of this moment, into one checksummed file. The store may be in use.',
    )
    .argument('<file>', 'file to write')
    .option('--json', 'one JSON document')
    .option(...STORE_OPTION)
    .action(async (file: string, flags: BackupFlags) =>
      done(
        await withTidyStore(io, flags.store, async store => {
          const saved = await throughOutput(file, '.backup', path => store.care.backup(path))
          if (!saved.ok) return tell(io, saved.problems, EXIT.output)
          const { bytes, sha256 } = saved.value
          const { out } = besideOutput(file, io)
          if (flags.json) out(`${JSON.stringify(saved.value)}\n`)
          else out(`${store.place} backed up to ${file} (${bytes} bytes, sha256 ${sha256})\n`)
          return EXIT.ok
        }),
      ),
    )
}

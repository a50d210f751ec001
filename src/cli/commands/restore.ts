import { Command } from 'commander'
import { pathOfInput } from '../files.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { STORE_OPTION } from '../openStore.ts'
import { tell } from '../tell.ts'

interface RestoreFlags {
  readonly store?: string
  readonly json?: true
}

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description('Puts a backup in the place of the store. The store that is there now is kept beside it.')
    .argument('<file>', 'file that backup wrote')
    .option('--json', 'one JSON document')
    .option(...STORE_OPTION)
    .action(async (file: string, flags: RestoreFlags) => done(await restoreFrom(file, flags, io)))
}

async function restoreFrom(file: string, flags: RestoreFlags, io: Io): Promise<ExitCode> {
  const { restore, storePlace } = await import('../../store/index.ts')
  const place = storePlace(flags.store, io.env)
  if (!place.ok) return tell(io, place.problems, EXIT.usage)
  const restored = await restore(place.value, await pathOfInput(file))
  if (!restored.ok) return tell(io, restored.problems, EXIT.input)
  const { path, madeAt, kept } = restored.value
  if (flags.json) io.out(`${JSON.stringify(restored.value)}\n`)
  else {
    io.out(`${path} is now as it was backed up on ${madeAt}.\n`)
    if (kept !== null) io.out(`What was there before is kept as ${kept}\n`)
  }
  return EXIT.ok
}

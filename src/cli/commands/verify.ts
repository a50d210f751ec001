import { Command } from 'commander'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { STORE_OPTION, withStore } from '../openStore.ts'
import { progress } from '../progress.ts'

interface VerifyFlags {
  readonly store?: string
  readonly json?: true
}

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description(
      'Checks the whole store: its pages, and every recording against its hashes, to the last sample.',
    )
    .option('--json', 'one JSON document')
    .option(...STORE_OPTION)
    .addHelpText(
      'after',
      '\nExit codes: 0 all is sound; 1 something is damaged; 4 the store cannot be opened.',
    )
    .action(async (flags: VerifyFlags) =>
      done(
        await withStore(io, flags.store, async store => {
          const shown = progress(io, 'verifying')
          const verified = await store.care.verify(shown.tell)
          shown.end()
          const { recordings, samples, findings } = verified
          if (flags.json)
            io.out(`${JSON.stringify({ sound: findings.length === 0, store: store.place, ...verified })}\n`)
          else {
            for (const { where, what } of findings) io.err(`tenterhook: ${where}: ${what}\n`)
            io.out(
              findings.length === 0
                ? `Sound: ${recordings} recordings, ${samples} samples, in ${store.place}\n`
                : `${findings.length} things are wrong. Keep a copy of the folder of ${store.place}, then restore the last backup.\n`,
            )
          }
          return findings.length === 0 ? EXIT.ok : EXIT.doubtful
        }),
      ),
    )
}

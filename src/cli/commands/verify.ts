import { Command } from 'commander'
import type { Store } from '../../store/index.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { STORE_OPTION, tellWaiting, withStore } from '../openStore.ts'
import { progress } from '../progress.ts'
import { tell } from '../tell.ts'

interface VerifyFlags {
  readonly store?: string
  readonly json?: true
}

const HELP = `
Without a package: the pages of the store, and every recording against its hashes, to the last sample.

With one (a folder or a zip that \`tenterhook package\` wrote): every file against its SHA-256, then every reading, every
sample as it was read, the table of specimens and the comparison, made again from the raw recordings. Each figure that
differs is told with both values. Figures within a thousand-millionth of their size are the same.

Examples:
  tenterhook verify                     the store
  tenterhook verify handles.zip         a package
  tenterhook verify --json handles      all that was found, as JSON

Exit codes: 0 all is sound; 1 something is damaged, was changed, differs or cannot be made again; 2 the command line is
wrong; 3 it is no package that can be read; 4 the store cannot be reached.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description('Checks the whole store, or a data package against its own raw data.')
    .argument('[package]', 'folder or zip of a data package; without it, the store')
    .option('--json', 'one JSON document')
    .option(...STORE_OPTION)
    .addHelpText('after', HELP)
    .action(async (path: string | undefined, flags: VerifyFlags) =>
      done(path === undefined ? await verifyStore(flags, io) : await verifyOne(path, flags, io)),
    )
}

function verifyStore(flags: VerifyFlags, io: Io): Promise<ExitCode> {
  const verify = async (store: Store): Promise<ExitCode> => {
    // Nothing is taken into a store that may be damaged.
    await tellWaiting(store, io)
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
  }
  return withStore(io, flags.store, verify, EXIT.doubtful)
}

async function verifyOne(path: string, flags: VerifyFlags, io: Io): Promise<ExitCode> {
  const { openPackage } = await import('../package/nodePackage.ts')
  const { sha256 } = await import('../../server/hash.ts')
  const opened = await openPackage(path)
  if (!opened.ok) return tell(io, opened.problems, EXIT.input)
  const { isSound, verifyPackage } = await import('../../publish/package/verifyPackage.ts')
  const { openRaw } = await import('../../server/openRaw.ts')
  const shown = progress(io, 'verifying')
  try {
    const verified = await verifyPackage(opened.value.source, sha256, openRaw, shown.tell)
    shown.end()
    if (!verified.ok) return tell(io, verified.problems, EXIT.input)
    const sound = isSound(verified.value)
    if (flags.json) io.out(`${JSON.stringify({ sound, ...verified.value })}\n`)
    else {
      const { verifiedText } = await import('../package/verifiedText.ts')
      io.out(verifiedText(verified.value))
    }
    return sound ? EXIT.ok : EXIT.doubtful
  } finally {
    await opened.value.close()
  }
}

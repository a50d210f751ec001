import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { Command, InvalidArgumentError } from 'commander'
import type { RunningServer } from '../../server/index.ts'
import type { Store } from '../../store/index.ts'
import { EXIT, type ExitCode, type Io } from '../io.ts'
import { openBrowser } from '../openBrowser.ts'
import { STORE_OPTION, withStore } from '../openStore.ts'
import { tell } from '../tell.ts'

interface StartFlags {
  readonly store?: string
  readonly port: number
  readonly open: boolean
  readonly lan?: true
  readonly demo?: true
  readonly json?: true
}

const USUAL_PORT = 8417

const EXAMPLES = `
Examples:
  tenterhook start                       the app, in the browser of this computer
  tenterhook start --lan                 and a phone on the same network as a second screen, to look on
  tenterhook start --demo                the app on an invented study, to look around
  tenterhook start --no-open --port 0    for a program: prints the address

It answers on this computer only. With --lan, or once a second screen is let in from the app (Pull, Second screen), other
devices of the local network may look on when they have scanned the code; nothing but this computer can start, zero or
change anything. Ctrl-C stops it.`

export function build(io: Io, done: (code: ExitCode) => void): Command {
  return new Command()
    .description('Starts the app: records, reads and compares in the browser, all on this computer.')
    .option('--port <n>', 'port to answer on; 0: any that is free', portNumber, USUAL_PORT)
    .option('--no-open', 'do not open the browser')
    .option('--lan', 'let other devices of the local network look on')
    .option('--demo', 'with the invented study in the store, opened')
    .option('--json', 'print the address as JSON')
    .option(...STORE_OPTION)
    .addHelpText('after', EXAMPLES)
    .action(async (flags: StartFlags) =>
      done(await withStore(io, flags.store, store => serve(store, flags, io))),
    )
}

function portNumber(word: string): number {
  const port = Number(word)
  if (!/^\d+$/.test(word) || port > 65_535)
    throw new InvalidArgumentError('It must be a whole number from 0 to 65535.')
  return port
}

async function serve(store: Store, flags: StartFlags, io: Io): Promise<ExitCode> {
  const { startServer } = await import('../../server/index.ts')
  const started = await startServer({
    store,
    port: flags.port,
    lan: flags.lan === true,
    webFolder: builtApp(),
    onTrouble: problems => {
      tell(io, problems, EXIT.output)
    },
    onFault: (id, error) =>
      io.err(`tenterhook: fault ${id}: ${error instanceof Error ? error.stack : String(error)}\n`),
  })
  if (!started.ok) return tell(io, started.problems, EXIT.output)
  const server = started.value
  const opened = flags.demo ? await demoAddress(server, store, io) : server.address
  await greet(server, opened, store, flags, io)
  if (flags.open) openBrowser(opened)
  await stopped(server, io)
  io.err('Stopping …\n')
  await server.stop()
  return EXIT.ok
}

/** The address of the demo study; that of the app where the study cannot be made. */
async function demoAddress({ address }: RunningServer, store: Store, io: Io): Promise<string> {
  const { keepDemoStudy } = await import('../../server/index.ts')
  const study = await keepDemoStudy(store)
  if (study.ok) return `${address}#/study/${study.value.id}/compare`
  tell(io, study.problems, EXIT.output)
  return address
}

async function greet(
  server: RunningServer,
  opened: string,
  store: Store,
  flags: StartFlags,
  io: Io,
): Promise<void> {
  const links = server.screenLinks()
  if (flags.json) {
    io.out(`${JSON.stringify({ address: server.address, store: store.place, screens: links })}\n`)
    return
  }
  io.out(`Tenterhook is at ${opened}\nStore: ${store.place}\n`)
  if (server.recovered > 0) io.out(`Recovered from journals: ${server.recovered} recordings\n`)
  const [first] = links ?? []
  if (first !== undefined) {
    const { renderUnicodeCompact } = await import('uqr')
    io.out(
      `\nSecond screen, to look on (good for one scan within ten minutes):\n${renderUnicodeCompact(first)}\n`,
    )
    for (const link of links ?? []) io.out(`  ${link}\n`)
  }
  io.out('Ctrl-C stops it.\n')
}

/** Where the build lays the app: `web` beside the bundle, or `dist/web` when run from the sources. */
function builtApp(): string | null {
  const places = ['./web', '../web', '../../../dist/web'].map(place =>
    fileURLToPath(new URL(place, import.meta.url)),
  )
  return places.find(place => existsSync(join(place, 'index.html'))) ?? null
}

/** Told to stop; told twice where samples are in memory alone. */
const stopped = ({ desk }: RunningServer, io: Io): Promise<void> =>
  new Promise(resolve => {
    let asked = 0
    for (const signal of ['SIGINT', 'SIGTERM'] as const)
      process.on(signal, () => {
        if (++asked > 1 || !desk.holds) return resolve()
        io.err(
          'tenterhook: samples are in memory alone, as the disk takes no more, and would be lost. Free some space: they are then written within seconds. To stop all the same, do so once more.\n',
        )
      })
  })

import { type AddressInfo, createServer } from 'node:net'
import { networkInterfaces } from 'node:os'
import type { FastifyInstance } from 'fastify'
import { openSession, pagePort } from '../capture/index.ts'
import { fine, type Outcome, type Problem, wrong } from '../core/problem.ts'
import type { Store } from '../store/index.ts'
import { makeApp } from './app.ts'
import { beside } from './beside/beside.ts'
import { type LiveDesk, liveDesk } from './desk/liveDesk.ts'
import { ownHosts } from './guard.ts'
import { screenDoor } from './screenDoor.ts'
import { letsScreenIn, screenEntry } from './screenEntry.ts'
import type { ScreenTokens } from './screens.ts'
import { journalsFolder, recoverIntoStore } from './storeCaptured.ts'
import { allRoutes } from './table.ts'

export interface ServerOptions {
  readonly store: Store
  /** 0: any that is free. */
  readonly port: number
  /** Also let second screens in from the local network, to look on. */
  readonly lan: boolean
  /** Where second screens are let in: the host to listen on, and the addresses that they are told. All of the local network. */
  readonly screensAt?: ScreensAt
  readonly webFolder: string | null
  readonly onTrouble: (problems: readonly Problem[]) => void
  readonly onFault: (id: string, error: unknown) => void
}

export interface ScreensAt {
  readonly host: string
  readonly addresses: () => readonly string[]
}

export interface RunningServer {
  /** For the bench: this computer only. */
  readonly address: string
  readonly port: number
  readonly desk: LiveDesk
  /** Addresses of the local network, each with a fresh code; `null` unless asked for. */
  screenLinks(): readonly string[] | null
  /** Recordings that a stopped program left behind, now in the store. */
  readonly recovered: number
  stop(): Promise<void>
}

const LOOPBACK = '127.0.0.1'
const LOOPBACK_NAMES = [LOOPBACK, 'localhost', '::1']

/**
 * Starts the server of the bench on this computer's own address and, if asked, a second one on the local network
 * that knows nothing but reading: what arms, zeroes, starts or changes is not in its table.
 */
export async function startServer(options: ServerOptions): Promise<Outcome<RunningServer>> {
  const { store, onTrouble, onFault, webFolder, screensAt = LOCAL_NETWORK } = options
  const heavy = beside(store)
  const journals = journalsFolder(store.folder)
  const desk = liveDesk({ store, journals, openSession, beside: heavy, onTrouble })
  const found = await recoverIntoStore(store, journals, heavy.takeIn)
  if (found.problems.length > 0) onTrouble(found.problems)
  const routes = allRoutes()
  const screens = screenDoor({ listen: listenToScreens, addresses: screensAt.addresses, portOf })
  const bench = { store, desk, beside: heavy, pagePort: pagePort(), screens }
  const own: FastifyInstance = await makeApp({
    bench,
    routes,
    webFolder,
    onFault,
    hosts: () => ownHosts(LOOPBACK_NAMES, portOf(own)),
  })
  const opened = await listen(own, LOOPBACK, options.port)
  if (!opened.ok) {
    await desk.stop()
    await heavy.stop()
    return opened
  }
  async function listenToScreens(tokens: ScreenTokens): Promise<Outcome<FastifyInstance>> {
    const lan: FastifyInstance = await makeApp({
      bench: { ...bench, screens: null, pagePort: null },
      routes: routes.filter(route => route.onScreen),
      webFolder,
      onFault,
      hosts: () => ownHosts(screensAt.addresses(), portOf(lan)),
      letsIn: request => letsScreenIn(request, tokens),
    })
    screenEntry(lan, tokens)
    const listening = await listenNear(lan, screensAt.host, portOf(own) + 1)
    return listening.ok ? fine(lan) : listening
  }
  const door = options.lan ? await screens.open() : fine(null)
  if (!door.ok) {
    await Promise.all([own.close(), desk.stop()])
    await heavy.stop()
    return door
  }
  return fine({
    address: `http://${LOOPBACK}:${portOf(own)}/`,
    port: portOf(own),
    desk,
    recovered: found.recovered.length,
    screenLinks: () => (screens.isOpen ? screens.newCode().links : null),
    async stop() {
      await desk.stop()
      await Promise.all([own.close(), screens.stop()])
      await heavy.stop()
    },
  })
}

const portOf = (app: FastifyInstance): number => (app.server.address() as AddressInfo | null)?.port ?? 0

/** On a port that stays the same, so that a screen finds a bench that was started again; on any other where that is taken. */
async function listenNear(app: FastifyInstance, host: string, port: number): Promise<Outcome<null>> {
  if (port > 65_535 || !(await isFree(host, port))) return listen(app, host, 0)
  return listen(app, host, port)
}

const isFree = (host: string, port: number): Promise<boolean> =>
  new Promise(resolve => {
    const probe = createServer()
    probe.once('error', () => resolve(false))
    probe.listen(port, host, () => probe.close(() => resolve(true)))
  })

async function listen(app: FastifyInstance, host: string, port: number): Promise<Outcome<null>> {
  try {
    await app.listen({ host, port })
    return fine(null)
  } catch (error) {
    const { code } = error as { code?: string }
    await app.close()
    if (code === 'EADDRINUSE')
      return wrong({
        where: `port ${port}`,
        what: 'another program has it.',
        cure: 'Stop that program, or choose another with --port.',
      })
    if (code === 'EACCES')
      return wrong({
        where: `port ${port}`,
        what: 'it may not be used.',
        cure: 'Choose one above 1023 with --port.',
      })
    throw error
  }
}

/** This computer's addresses in local networks (IPv4: that is what phones on a home network reach). */
function lanAddresses(): string[] {
  return Object.values(networkInterfaces())
    .flatMap(list => list ?? [])
    .filter(address => address.family === 'IPv4' && !address.internal)
    .map(address => address.address)
}

const LOCAL_NETWORK: ScreensAt = { host: '0.0.0.0', addresses: lanAddresses }

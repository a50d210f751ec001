import { join } from 'node:path'
import { problemText } from '../core/problem.ts'
import type { Store } from '../store/index.ts'
import { EXIT, type ExitCode, type Io } from './io.ts'
import { tell } from './tell.ts'

/** The option that every command on the store has. */
export const STORE_OPTION = [
  '--store <dir>',
  'folder of the store (else $TENTERHOOK_STORE, else your data folder)',
] as const

/**
 * As `withStore`, and takes in first what a program that was cut off left behind, so that no list or copy is made without
 * it. What another program is recording now is told.
 */
export const withTidyStore = (
  io: Io,
  option: string | undefined,
  work: (store: Store) => Promise<ExitCode>,
  damaged?: ExitCode,
): Promise<ExitCode> =>
  withStore(
    io,
    option,
    async store => {
      await takeLeft(store, io)
      return work(store)
    },
    damaged,
  )

/** Says what waits to be taken in, and takes nothing in. */
export async function tellWaiting({ folder }: Store, io: Io): Promise<void> {
  const { waitingJournals } = await import('../server/storeCaptured.ts')
  const { left, inUse } = await waitingJournals(folder)
  if (left.length > 0)
    io.err(
      `tenterhook: ${left.length === 1 ? '1 capture that was cut off waits' : `${left.length} captures that were cut off wait`} in ${join(folder, 'journals')}; \`tenterhook list\` takes ${left.length === 1 ? 'it' : 'them'} in.\n`,
    )
  for (const path of inUse) io.err(running(path))
}

const running = (path: string): string =>
  `tenterhook: a recording runs in another program and is not in the store yet: ${path}\n`

async function takeLeft(store: Store, io: Io): Promise<void> {
  const { readdir } = await import('node:fs/promises')
  const journals = join(store.folder, 'journals')
  const names = await readdir(journals).catch(() => [])
  if (!names.some(name => name.endsWith('.journal'))) return
  const { recoverIntoStore } = await import('../server/storeCaptured.ts')
  const { recovered, problems, inUse } = await recoverIntoStore(store, journals)
  for (const { id, samples } of recovered)
    io.err(`tenterhook: recovered ${id} (${samples} samples) from a capture that was cut off.\n`)
  for (const path of inUse) io.err(running(path))
  tell(io, problems, EXIT.ok)
}

/**
 * Opens the store that the option or the environment names, does the work and closes it. A store that cannot be
 * reached or trusted is told on standard error; the exit code is then `output`, or `damaged` where it is given and fits.
 */
export async function withStore(
  io: Io,
  option: string | undefined,
  work: (store: Store) => Promise<ExitCode>,
  damaged?: ExitCode,
): Promise<ExitCode> {
  // Loaded here: the database is native code, and most commands do without it.
  const { openStore, StoreFault, storePlace } = await import('../store/index.ts')
  const place = storePlace(option, io.env)
  if (!place.ok) {
    return tell(io, place.problems, EXIT.usage)
  }
  let store: Store | null = null
  try {
    store = await openStore(place.value)
    return await work(store)
  } catch (error) {
    if (!(error instanceof StoreFault)) throw error
    io.err(`tenterhook: ${problemText(error.problem)}\n`)
    return damaged !== undefined && error.problem.code === 'store-damaged' ? damaged : EXIT.output
  } finally {
    await store?.close()
  }
}

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
 * Opens the store that the option or the environment names, does the work and closes it. A store that cannot be
 * reached or trusted is told on standard error; the exit code is then `output`.
 */
export async function withStore(
  io: Io,
  option: string | undefined,
  work: (store: Store) => Promise<ExitCode>,
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
    return EXIT.output
  } finally {
    await store?.close()
  }
}

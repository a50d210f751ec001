import { homedir } from 'node:os'
import { posix, win32 } from 'node:path'
import { fine, type Outcome, wrong } from '../core/problem.ts'

type Env = Readonly<Record<string, string | undefined>>

/** Environment variable that names the store; `--store` wins over it. */
const STORE_VARIABLE = 'TENTERHOOK_STORE'

/** Where a store lies: which engine, and its folder. */
export interface StorePlace {
  readonly engine: 'sqlite'
  /** Folder of the database, the journals and the copies kept before a change. */
  readonly folder: string
  readonly file: string
}

/**
 * The folder for a user's data by the custom of each system: `$XDG_DATA_HOME` or `~/.local/share` (XDG Base
 * Directory Specification 0.8), `~/Library/Application Support`, `%LOCALAPPDATA%`.
 */
export function dataFolder(env: Env, platform: NodeJS.Platform = process.platform, home = homedir()): string {
  if (platform === 'win32')
    return win32.join(env.LOCALAPPDATA || win32.join(home, 'AppData', 'Local'), 'Tenterhook')
  if (platform === 'darwin') return posix.join(home, 'Library', 'Application Support', 'Tenterhook')
  // The specification says that a relative path there is to be ignored.
  const xdg = env.XDG_DATA_HOME
  return posix.join(xdg?.startsWith('/') ? xdg : posix.join(home, '.local', 'share'), 'tenterhook')
}

/** The store that `--store`, else the environment variable, else custom names. Opens and makes nothing. */
export function storePlace(
  option: string | undefined,
  env: Env,
  platform: NodeJS.Platform = process.platform,
  home = homedir(),
): Outcome<StorePlace> {
  const given = option ?? (env[STORE_VARIABLE] || undefined)
  const where = option === undefined ? STORE_VARIABLE : '--store'
  if (given === undefined) return fine(sqliteIn(dataFolder(env, platform, home), platform))
  if (given.trim() === '')
    return wrong({ where, what: 'it is empty.', cure: 'Give the folder of the store, or leave it out.' })
  const scheme = /^([a-z][a-z0-9+.-]+):\/\//i.exec(given)?.[1]?.toLowerCase()
  if (scheme === 'postgres' || scheme === 'postgresql')
    return wrong({
      where,
      // Never the address itself: it may hold a password.
      what: 'a PostgreSQL store is not supported yet.',
      cure: 'Give a folder; several programs on one machine may use it at the same time.',
    })
  if (scheme !== undefined)
    return wrong({
      where,
      what: `“${scheme}:” is not a kind of store.`,
      cure: 'Give the folder of the store.',
    })
  const path = platform === 'win32' ? win32 : posix
  return fine(sqliteIn(path.resolve(given), platform))
}

function sqliteIn(folder: string, platform: NodeJS.Platform): StorePlace {
  const path = platform === 'win32' ? win32 : posix
  return { engine: 'sqlite', folder, file: path.join(folder, 'tenterhook.sqlite') }
}

/** Name of a copy of the store that is kept beside it: `before-restore-20260131T094501123Z.sqlite`. */
export const stamped = (why: string, at = new Date()): string =>
  `${why}-${at.toISOString().replace(/[-:.]/g, '')}.sqlite`

import { randomName } from '../../parts/randomName.ts'

const KEY = 'tenterhook.import'
const WAIT_MS = 2000

let own: Promise<string> | null = null

/**
 * The name of this window's table. A window that is loaded anew has the one it had; a fresh one takes over a table
 * whose window is gone. Which windows are there is told by locks, which end with their window; where the browser has
 * none (on a page that is not served securely) only a reload finds its table.
 */
export function ownTable(names: readonly string[]): Promise<string> {
  own ??= chosen(names)
  return own
}

async function chosen(names: readonly string[]): Promise<string> {
  const before = remembered()
  if (!('locks' in navigator)) return before ?? remember(randomName())
  // The page before this one may take a moment to end; in a window that was doubled it never does.
  if (before !== null && (await holds(before, { signal: AbortSignal.timeout(WAIT_MS) }))) return before
  for (const name of names) if (await holds(name, { ifAvailable: true })) return remember(name)
  const name = randomName()
  await holds(name, { ifAvailable: true })
  return remember(name)
}

/** Whether the lock of a table could be had; it is held from now on. */
const holds = (name: string, options: LockOptions): Promise<boolean> =>
  new Promise(tell => {
    navigator.locks
      .request(`${KEY}.${name}`, options, lock => {
        tell(lock !== null)
        return lock ? new Promise<void>(() => {}) : undefined
      })
      .catch(() => tell(false))
  })

function remembered(): string | null {
  try {
    return sessionStorage.getItem(KEY)
  } catch {
    return null
  }
}

function remember(name: string): string {
  try {
    sessionStorage.setItem(KEY, name)
  } catch {
    // A browser that keeps nothing for a page: it has no table to find again either.
  }
  return name
}

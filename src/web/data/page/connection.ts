import { type DBSchema, type IDBPDatabase, type OpenDBCallbacks, openDB } from 'idb'

/**
 * The one connection of this window or thread to a storage of the browser: opened when it is first asked for, and anew
 * where it was closed since. A newer page in another window may change the shape at any time, and the browser may close it
 * too, as when its storage is cleared.
 */
export function connection<S extends DBSchema>(
  name: string,
  version: number,
  upgrade: NonNullable<OpenDBCallbacks<S>['upgrade']>,
): () => Promise<IDBPDatabase<S>> {
  let opened: Promise<IDBPDatabase<S>> | null = null
  return async () => {
    opened ??= openDB<S>(name, version, {
      upgrade,
      blocking: (_current, _wanted, event) => {
        ;(event.target as IDBDatabase).close()
        opened = null
      },
      terminated: () => {
        opened = null
      },
    })
    try {
      return await opened
    } catch (error) {
      opened = null
      throw error
    }
  }
}

import type { DBSchema } from 'idb'
import { connection } from '../../data/page/connection.ts'
import type { KeptTable } from './table.ts'

/**
 * Dropped files and what was said of them, set aside in the browser until they are taken in or put away. By itself,
 * beside whichever home the studies have. Version 1; a change of shape is a further step in `upgrade`.
 */
interface TablesDb extends DBSchema {
  /** By the name of the window's table. */
  tables: { key: string; value: KeptTable }
  files: { key: [string, number]; value: File }
}

const tablesDb = connection<TablesDb>('tenterhook-import', 1, db => {
  db.createObjectStore('tables')
  db.createObjectStore('files')
})

const filesOf = (name: string) => IDBKeyRange.bound([name, 0], [name, Number.POSITIVE_INFINITY])

export const tableNames = async (): Promise<string[]> => (await tablesDb()).getAllKeys('tables')

export async function readTable(
  name: string,
): Promise<{ readonly table: KeptTable; readonly files: ReadonlyMap<number, File> } | null> {
  const db = await tablesDb()
  const [table, keys, files] = await Promise.all([
    db.get('tables', name),
    db.getAllKeys('files', filesOf(name)),
    db.getAll('files', filesOf(name)),
  ])
  return table?.version === 1 ? { table, files: new Map(keys.map(([, id], i) => [id, files[i]!])) } : null
}

/** All or nothing; a file is written once, and goes when it is on the table no more. `null` puts the table away. */
export async function writeTable(
  name: string,
  table: KeptTable | null,
  files: ReadonlyMap<number, File>,
): Promise<void> {
  const change = (await tablesDb()).transaction(['tables', 'files'], 'readwrite', { durability: 'strict' })
  const kept = change.objectStore('files')
  const known = new Set((await kept.getAllKeys(filesOf(name))).map(([, id]) => id))
  for (const id of known) if (!files.has(id)) await kept.delete([name, id])
  for (const [id, file] of files) if (!known.has(id)) await kept.put(file, [name, id])
  if (table) await change.objectStore('tables').put(table, name)
  else await change.objectStore('tables').delete(name)
  await change.done
}

import type { Problem } from '../../core/problem.ts'
import { readSpecimensTable, readTable } from '../../logs/index.ts'
import { texts } from '../texts/index.ts'
import type { Sorted, SortedLog } from './importState.ts'
import type { StrangeItem, TableItem } from './types.ts'

/** A table of specimens is small; a log of this size is not looked at as one. */
const MOST_TABLE_BYTES = 1 << 20
const HEAD_BYTES = 600

/** Tells dropped files apart: logs, specimens tables, and those that are something else, with what to do then. */
export async function sortFiles(files: readonly File[]): Promise<Sorted> {
  const logs: SortedLog[] = []
  const tables: TableItem[] = []
  const strange: StrangeItem[] = []
  let study: Sorted['study']
  const take = (found: Sorted) => {
    logs.push(...found.logs)
    tables.push(...found.tables)
    study ??= found.study
  }
  const ofFolder = new Set<File>()
  for (const file of files.filter(isDescription)) {
    const { unpackFolder } = await import('./unpack.ts')
    const unpacked = await unpackFolder(file, files)
    if (unpacked.ok && unpacked.value === null) continue
    ofFolder.add(file)
    if (unpacked.ok && unpacked.value) {
      take(unpacked.value.found)
      for (const used of unpacked.value.used) ofFolder.add(used)
    } else if (!unpacked.ok) strange.push(...unpacked.problems.map(problem => ({ name: file.name, problem })))
  }
  for (const file of files) {
    if (ofFolder.has(file)) continue
    const head = await start(file)
    if (head.ok && isZip(head.bytes)) {
      const { unpack } = await import('./unpack.ts')
      const unpacked = await unpack(file)
      if (unpacked.ok) take(unpacked.value)
      else strange.push(...unpacked.problems.map(problem => ({ name: file.name, problem })))
      continue
    }
    const problem = head.ok ? strangeness(file, head.bytes) : head.problem
    const table = problem ? null : await tableIn(file)
    if (problem) strange.push({ name: file.name, problem })
    else if (table) tables.push(table)
    else logs.push({ file })
  }
  return { logs, tables, strange, ...(study ? { study } : {}) }
}

/** The name of a package's description is fixed by its standard. */
const isDescription = ({ name }: Pick<File, 'name'>): boolean => name.toLowerCase() === 'datapackage.json'

type Start = { ok: true; bytes: Uint8Array } | { ok: false; problem: Problem }

async function start(file: File): Promise<Start> {
  try {
    return { ok: true, bytes: new Uint8Array(await file.slice(0, HEAD_BYTES).arrayBuffer()) }
  } catch {
    // A folder, or a file that was moved or is locked since it was dropped.
    return { ok: false, problem: { where: file.name, ...texts.import.strange.unreadable } }
  }
}

const begins = (bytes: Uint8Array, ...start: readonly number[]): boolean =>
  start.every((byte, i) => bytes[i] === byte)

const isZip = (head: Uint8Array): boolean => begins(head, 0x50, 0x4b, 0x03, 0x04)

/** What a file is that is no log and no table, for people; `null` for all else. */
export function strangeness({ name }: Pick<File, 'name'>, head: Uint8Array): Problem | null {
  const { strange } = texts.import
  const text = new TextDecoder().decode(head)
  const where = name
  if (isDescription({ name })) return { where, ...strange.dataPackage }
  if (text.startsWith('{"document":"tenterhook.backup"')) return { where, ...strange.backup }
  if (begins(head, 0x1f, 0x8b)) return { where, ...strange.archive }
  if (text.startsWith('SQLite format 3')) return { where, ...strange.database }
  if (begins(head, 0xff, 0xd8, 0xff) || begins(head, 0x89, 0x50, 0x4e, 0x47) || text.startsWith('RIFF'))
    return { where, ...strange.picture }
  const document = /^\s*\{\s*"document"\s*:\s*"tenterhook\.([a-z]+)"/.exec(text)?.[1]
  return document === undefined ? null : { where, ...strange.document(document) }
}

/** The specimens table in a file, `null` where it is none: one has a column `file` and another that is known. */
async function tableIn(file: File): Promise<TableItem | null> {
  if (file.size > MOST_TABLE_BYTES) return null
  const bytes = new Uint8Array(await file.arrayBuffer())
  const table = readTable(bytes, file.name)
  if (!table.ok) return null
  const names = table.value.names.map(name => name.toLowerCase().trim())
  if (
    !names.includes('file') ||
    !['specimen', 'variant', 'elements', 'mode', 'note'].some(c => names.includes(c))
  )
    return null
  const remarks: string[] = []
  const rows = readSpecimensTable(bytes, file.name, text => remarks.push(text))
  return rows.ok
    ? { name: file.name, rows: rows.value, problems: [], remarks }
    : { name: file.name, rows: [], problems: rows.problems, remarks }
}

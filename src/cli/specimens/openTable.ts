import type { Outcome } from '../../core/problem.ts'
import { readTable, type Table } from '../../logs/index.ts'
import { readBytes } from '../files.ts'

/** A table of cells from a file, or from standard input where the path is `-`. */
export async function openTable(path: string): Promise<Outcome<Table>> {
  const bytes = await readBytes(path)
  return bytes.ok ? readTable(bytes.value, path === '-' ? 'standard input' : path) : bytes
}

import { basename } from 'node:path'
import { fine, type Outcome } from '../core/problem.ts'
import type { Adjustment } from '../core/reading/adjustment.ts'
import { readSpecimensTable, type SpecimenRow } from '../logs/index.ts'
import { readBytes } from './files.ts'
import type { Io } from './io.ts'

/** The table of specimens, as the row of a log: found by the path as it was given, else by its name alone. */
export async function openSpecimensTable(
  path: string,
  io: Pick<Io, 'err'>,
): Promise<Outcome<(log: string) => SpecimenRow | null>> {
  const bytes = await readBytes(path)
  if (!bytes.ok) return bytes
  const table = readSpecimensTable(bytes.value, path, text => io.err(`tenterhook: ${text}\n`))
  if (!table.ok) return table
  const rows = new Map(table.value.map(row => [row.file, row]))
  return fine(log => rows.get(log) ?? rows.get(basename(log)) ?? null)
}

/** The adjustments of a file, checked against their schema. */
export async function openAdjustments(path: string): Promise<Outcome<Adjustment[]>> {
  const bytes = await readBytes(path)
  if (!bytes.ok) return bytes
  // The schema is loaded only where there is something to check.
  const { parseAdjustments } = await import('../core/reading/adjustmentDocument.ts')
  return parseAdjustments(new TextDecoder().decode(bytes.value), path)
}

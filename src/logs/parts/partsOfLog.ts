import { detectEncoding } from '../lines/encoding.ts'
import { understandLayout } from '../lines/layout.ts'
import { linesOf } from '../lines/split.ts'
import { thinnedLines } from '../lines/thinned.ts'
import type { LogOptions } from '../options.ts'
import type { LogPart } from './logPart.ts'
import { stackedTables } from './stackedTables.ts'
import { tablesBeside } from './tablesBeside.ts'

/** Longer files are not taken apart: they are one long recording. */
export const MOST_PARTED_BYTES = 64 * 1024 * 1024
/** The layout is settled on so many lines. */
const HEAD_LINES = 20_000

/**
 * The tables of a file, where it holds several; empty where it is one table, or none that can be taken apart.
 */
export function partsOfLog(bytes: Uint8Array, name: string, options: LogOptions = {}): LogPart[] {
  if (bytes.length === 0 || bytes.length > MOST_PARTED_BYTES) return []
  const encoding = detectEncoding(bytes.subarray(0, 256 * 1024), name, options.encoding)
  if (!encoding.ok) return []
  const lines = linesOf(new TextDecoder(encoding.value.label).decode(bytes))
  const layout = understandLayout(thinnedLines(lines.slice(0, HEAD_LINES)), options)
  if (layout?.kind !== 'cells') return []
  const below = stackedTables(lines, layout)
  return below.length > 1 ? below : tablesBeside(lines, layout)
}

/**
 * How a part is read once it is cut out: as the file was, but for the encoding, since its text is written
 * anew as UTF-8.
 */
export function partOptions({ encoding: _, ...options }: LogOptions): LogOptions {
  return options
}

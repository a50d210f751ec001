import { cellsOf } from './delimiter.ts'
import type { Layout } from './layout.ts'
import { withoutResidue } from './split.ts'

/** Digits after the last decimal mark, and what follows them. */
const ending = (cell: string): string => {
  const found = /[.,](\d*)(\D*)$/.exec(cell)
  return found ? `${found[1]?.length}${found[2]}` : (/\D*$/.exec(cell)?.[0] ?? '')
}

/**
 * Whether a last line without a line end was cut short: fewer cells than the lines before it have; or a last
 * cell that ends otherwise than theirs all do, or is shorter than any of them. A cut that leaves no trace
 * cannot be seen.
 */
export function isCutShort(text: string, before: readonly string[], layout: Layout): boolean {
  const bare = withoutResidue(text)
  if (bare === '' || before.length < 3) return false
  if (layout.kind === 'json-lines') return !/[}\]],?$/.test(bare)
  const delimiter = layout.kind === 'cells' ? layout.delimiter : ' '
  const others = before.map(line => cellsOf(withoutResidue(line), delimiter))
  const cells = cellsOf(bare, delimiter)
  if (others.every(other => other.length > cells.length)) return /\d/.test(bare)
  const last = cells.at(-1) ?? ''
  const lasts = others.map(other => other.at(-1) ?? '')
  const endings = new Set(lasts.map(ending))
  if (!/\d/.test(last)) return false
  if (endings.size === 1 && /^[1-9]/.test([...endings][0] ?? '')) return !endings.has(ending(last))
  return lasts.every(other => other.length > last.length)
}

import { cellForm, plainWidth } from '../cells/cell.ts'
import { unitMeaning } from '../words/units.ts'
import { type ColumnForm, fitsSoFar, rowCells } from './columnForm.ts'
import { cellsOf, type Split } from './delimiter.ts'
import { commentText, splitCells } from './split.ts'

export interface HeaderLine {
  readonly names: readonly string[]
  /** Units given in a row of their own below the names; `''` where a column has none. */
  readonly units: readonly string[]
  /** Another row of units below that one, which was not followed. */
  readonly otherUnits?: { readonly cells: readonly string[]; readonly line: number }
  readonly line: number
  /** Last line of the header: that of the names or of the units. */
  readonly lastLine: number
}

/**
 * The names, and the units below them, that stand directly above a row. A header behind a comment mark counts
 * too.
 */
export function headerAbove(
  texts: readonly string[],
  line: number,
  split: Split,
  forms: readonly ColumnForm[],
): HeaderLine | null {
  const width = forms.length
  let asked = 0
  for (let above = line - 1; above >= 1 && asked < 6; above--) {
    const text = texts[above - 1] ?? ''
    if (text === '') continue
    const comment = commentText(text, split.delimiter)
    const cells =
      headerCells(comment ?? text, split, width) ?? quotedNames(text, texts[line - 1] ?? '', split, width)
    asked++
    if (cells === null) {
      // Comments and rulers (`-----`) may stand between a header and its rows; other text may not.
      // So may rows of another width: one whose last cell is filled, say.
      const ruler = /^[-=_+|:\s]*$/.test(text)
      const row = rowCells(text, split)
      if (comment === null && !ruler && !(row && fitsSoFar(row, split, forms))) return null
      continue
    }
    const alone = { names: cells, units: [], line: above, lastLine: above }
    if (!isUnitRow(cells)) return alone
    const names = headerAbove(texts, above, split, forms)
    if (!names) return alone
    return names.units.length === 0
      ? { ...names, units: cells, lastLine: above }
      : { ...names, otherUnits: { cells, line: above }, lastLine: above }
  }
  return null
}

/**
 * Cells of a line of names: as many as a row has (more where the last columns are rarely filled), none a
 * number.
 */
function headerCells(text: string, split: Split, width: number): string[] | null {
  const tries: readonly (readonly string[])[] = [
    cellsOf(text, split.delimiter),
    // A row of units may leave its last cells empty.
    splitCells(plainWidth(text), split.delimiter),
    bracketsJoined(cellsOf(text, split.delimiter)),
    ...(['\t', ';', ',', '|'] as const).map(delimiter => cellsOf(text, delimiter)),
    plainWidth(text)
      .trim()
      .split(/\s{2,}|\t/),
  ]
  const fitting = tries.find(
    (cells, i) =>
      (cells.length === width || (i === 0 && cells.length > width && split.delimiter !== ' ')) &&
      isNames(cells, split),
  )
  return fitting ? [...fitting] : null
}

/** Names in quotes, one fewer than the cells of rows that begin with a quoted number or name of the row. */
function quotedNames(text: string, row: string, split: Split, width: number): string[] | null {
  if (!/^\s*"/.test(text) || !/^\s*"/.test(row)) return null
  const cells = cellsOf(text, split.delimiter)
  return cells.length === width - 1 && isNames(cells, split) ? ['', ...cells] : null
}

const isNames = (cells: readonly string[], split: Split): boolean =>
  cells.some(cell => /\p{L}|[#№]/u.test(cell)) &&
  cells.every(cell => {
    const form = cellForm(cell, split.decimal)
    return form === 'text' || form === 'unit' || (form === 'missing' && !/\d/.test(cell))
  })

/** Blank-parted headers: `Time (s) Force (N)` → `Time (s)`, `Force (N)`. */
function bracketsJoined(cells: readonly string[]): string[] {
  const joined: string[] = []
  for (const cell of cells) {
    if (joined.length > 0 && /^[[({<].*[\])}>]$/.test(cell)) joined[joined.length - 1] += ` ${cell}`
    else joined.push(cell)
  }
  return joined
}

export const isUnitRow = (cells: readonly string[]): boolean => {
  const units = cells.filter(cell => cell !== '' && !/^[-\s[\]()]*$/.test(cell))
  // `t` is a time by name before it is a tonne.
  return units.length > 0 && units.every(cell => unitMeaning(cell) !== null && !/^t$/i.test(cell))
}

import { cellForm } from '../cells/cell.ts'
import { type Decimal, type DecimalMarks, parseNumber } from '../cells/number.ts'
import { headerMeaning } from '../words/header.ts'
import type { Role } from '../words/roles.ts'
import type { ColumnForm } from './columnForm.ts'
import { cellsOf } from './delimiter.ts'
import { keyedLine } from './keyed.ts'
import type { Delimiter } from './split.ts'

export interface CellsOfLine {
  readonly cells: readonly string[]
  readonly decimal: DecimalMarks
}

interface Usual {
  readonly delimiter: Delimiter
  readonly decimal: DecimalMarks
  readonly forms: readonly ColumnForm[]
}

const DELIMITERS: readonly Delimiter[] = ['\t', ';', '|', ',', ' ']
const MARKS: readonly Decimal[] = ['point', 'comma']

/**
 * The cells of a line that is not written as its log is: parted otherwise, with the other decimal mark, or
 * with a name before each number, as a device may write after it was started anew. `null` where no such way
 * gives a number for each column of numbers and nothing more, or two ways give different ones.
 */
export function cellsWrittenOtherwise(
  text: string,
  usual: Usual,
  roles: readonly (Role | null)[],
): CellsOfLine | null {
  if (!/\d/.test(text)) return null
  const bare = text.includes('\0') ? text.replaceAll('\0', '') : text
  const found: CellsOfLine[] = []
  for (const delimiter of DELIMITERS) {
    const cells = cellsOf(bare, delimiter)
    if (cells.length !== lastNumber(usual.forms) + 1 && cells.length !== usual.forms.length) continue
    for (const decimal of MARKS) {
      if (decimal === 'comma' && delimiter === ',') continue
      if (isRow(cells, decimal, usual.forms)) found.push({ cells, decimal })
    }
  }
  const [first, ...others] = found
  if (!first) return cellsOfKeys(bare, usual, roles)
  const values = valuesOf(first)
  return others.every(other => valuesOf(other).join() === values.join()) ? first : null
}

const lastNumber = (forms: readonly ColumnForm[]): number =>
  forms.findLastIndex(form => form !== 'text' && form !== 'unit')

const valuesOf = ({ cells, decimal }: CellsOfLine): (number | null)[] =>
  cells.map(cell => parseNumber(cell, decimal))

/**
 * Whether every column of the log has its cell, thousands marks left aside: with the other mark they would be
 * decimals.
 */
const isRow = (cells: readonly string[], decimal: Decimal, forms: readonly ColumnForm[]): boolean =>
  forms.every((form, c) => {
    if (form === 'text' || form === 'unit') return true
    const found = cellForm(cells[c] ?? '', decimal)
    return form === 'number' ? found === 'number' || found === 'quantity' : found === form
  })

/**
 * `t=1.2 f=3.4` in a log of such columns: by what the names mean, or in order where the log names no columns.
 */
function cellsOfKeys(text: string, { forms }: Usual, roles: readonly (Role | null)[]): CellsOfLine | null {
  const pairs = keyedLine(text)?.pairs ?? []
  const numbers = forms.flatMap((form, c) => (form === 'number' ? [c] : []))
  if (pairs.length !== numbers.length || pairs.length < 2 || forms.some(form => /^(?:clock|date)/.test(form)))
    return null
  const keyRoles = pairs.map(([key]) => headerMeaning(key).role)
  const headless = roles.every(role => role === null)
  const cells: string[] = forms.map(() => '')
  for (const [p, [, value]] of pairs.entries()) {
    const alike = numbers.filter(c => roles[c] === keyRoles[p] && roles[c] !== null)
    const at = headless
      ? keyRoles[0] === 'time'
        ? numbers[p]
        : undefined
      : alike.length === 1
        ? alike[0]
        : undefined
    if (at === undefined || cells[at] !== '') return null
    cells[at] = value
  }
  const decimal = MARKS.find(mark =>
    numbers.every(c => /^(?:number|quantity)$/.test(cellForm(cells[c] ?? '', mark))),
  )
  return decimal === undefined ? null : { cells, decimal }
}

import { type CellForm, cellForm, plainWidth } from '../cells/cell.ts'
import type { Decimal } from '../cells/number.ts'
import { monthLeads } from '../cells/stamp.ts'
import type { LogOptions } from '../options.ts'
import { unitMeaning } from '../words/units.ts'
import { bestSplit, cellsOf, type Split } from './delimiter.ts'
import { keyedLine } from './keyed.ts'
import { commentText, type Delimiter, withoutResidue } from './split.ts'

/** What a column holds. Stamps are kept as seconds; `unit` words belong to the column before. */
export type ColumnForm = 'number' | 'clock' | 'date' | 'date-time' | 'unit' | 'text'

export interface HeaderLine {
  readonly names: readonly string[]
  /** Units given in a row of their own below the names; `''` where a column has none. */
  readonly units: readonly string[]
  readonly line: number
  /** Last line of the header: that of the names or of the units. */
  readonly lastLine: number
}

interface CellsLayout {
  readonly kind: 'cells'
  readonly delimiter: Delimiter
  readonly forms: readonly ColumnForm[]
  readonly header: HeaderLine | null
  /** Whole lines stand in quotes. */
  readonly wrapped: boolean
}

export type Layout = (
  | CellsLayout
  | { readonly kind: 'keys' }
  | { readonly kind: 'json-lines' }
  | { readonly kind: 'json' }
) & {
  readonly decimal: Decimal
  readonly decimalUnclear: boolean
  readonly monthFirst: boolean
  /** Lines before this one are a preamble: title, settings, results, header. */
  readonly firstLine: number
}

const SAMPLE_LINES = 500
/** A longer line is no row of samples. */
const LONGEST_ROW = 4096
/** A block of rows that has its own header and is this much shorter than the next is a table of results, not the record. */
const RESULTS_SHARE = 0.5

/** Understands the first lines of a log: what parts cells, which line names them, where the samples begin. */
export function understandLayout(lines: readonly string[], options: LogOptions): Layout | null {
  const json = jsonLayout(lines)
  const common = {
    decimal: options.decimal ?? 'point',
    decimalUnclear: false,
    monthFirst: false,
    firstLine: 1,
  } as const
  if (json) return { kind: json, ...common }
  const bare = lines.map(withoutResidue)
  const wrapped = isWrapped(bare)
  const texts = wrapped ? bare.map(unwrapped) : bare
  const sample = sampleOf(
    texts.filter(text => text !== '' && text.length <= LONGEST_ROW && commentText(text) === null),
  )
  const split = bestSplit(sample, options.decimal)
  const keyed = keyedShare(sample, options.decimal)
  if (keyed.share > 0.5 && keyed.share > (split?.score ?? 0)) {
    return { kind: 'keys', ...common, decimal: keyed.decimal }
  }
  if (!split) return null
  return cellsLayout(texts, split, wrapped)
}

/** Lines from the whole of the head, more of them from its beginning. */
function sampleOf(texts: readonly string[]): readonly string[] {
  if (texts.length <= SAMPLE_LINES) return texts
  const first = texts.slice(0, SAMPLE_LINES / 5)
  const step = (texts.length - first.length) / (SAMPLE_LINES - first.length)
  const rest = Array.from(
    { length: SAMPLE_LINES - first.length },
    (_, i) => texts[first.length + Math.floor(i * step)] ?? '',
  )
  return [...first, ...rest]
}

function jsonLayout(lines: readonly string[]): 'json' | 'json-lines' | null {
  const full = lines.map(line => line.replace(/^\ufeff/, '').trim()).filter(line => line !== '')
  const first = full[0]
  if (first === undefined) return null
  const starts = full.filter(line => /^[{[]/.test(line))
  const parsed = starts.slice(0, 50).filter(isWholeJson).length
  if (starts.length > 0.5 * full.length && starts.length > 1 && parsed > 0.5 * Math.min(50, starts.length)) {
    return 'json-lines'
  }
  // A section title or a bracketed stamp begins with a bracket too, but not with JSON after it.
  return /^\{\s*(?:"|$|\})|^\[\s*(?:[[{"]|-?\d[\d.eE+-]*\s*(?:,|$|\])|$)/.test(first) ? 'json' : null
}

function isWholeJson(text: string): boolean {
  try {
    JSON.parse(text.replace(/,$/, ''))
    return true
  } catch {
    return false
  }
}

function isWrapped(lines: readonly string[]): boolean {
  const full = lines.filter(line => line !== '')
  const wrapped = full.filter(line => /^"[^"]*[,;|\t][^"]*"$/.test(line))
  return full.length > 0 && wrapped.length > 0.8 * full.length
}

export const unwrapped = (line: string): string => (/^"[^"]*"$/.test(line) ? line.slice(1, -1) : line)

function keyedShare(sample: readonly string[], given?: Decimal): { share: number; decimal: Decimal } {
  let keyed = 0
  let commas = 0
  let points = 0
  for (const line of sample) {
    const found = keyedLine(line)
    const values =
      found?.pairs.map(([, value]) => value).filter(value => /^[+\-−]?\s*[.,]?\d/.test(value)) ?? []
    if (values.length === 0) continue
    keyed++
    if (values.some(value => /\d,\d/.test(value))) commas++
    if (values.some(value => /\d\.\d/.test(value))) points++
  }
  return {
    share: keyed / Math.max(1, sample.length),
    decimal: given ?? (commas > points ? 'comma' : 'point'),
  }
}

function cellsLayout(texts: readonly string[], split: Split, wrapped: boolean): Layout | null {
  const rows = texts.map((text, i) => ({ line: i + 1, cells: rowCells(text, split) }))
  const sample = rows.filter(row => row.cells !== null && row.cells.length === split.width)
  const forms = columnForms(
    sample.map(row => row.cells ?? []),
    split,
  )
  const blocks = blocksOf(texts, rows, split, forms)
  const block = blocks.find(
    (b, i) => b.rows >= RESULTS_SHARE * Math.max(0, ...blocks.slice(i + 1).map(c => c.rows)),
  )
  if (!block) return null
  const dates = sample
    .slice(0, 2000)
    .flatMap(row => (row.cells ?? []).filter((_, c) => /^date/.test(forms[c] ?? '')))
  const extra = block.header ? block.header.names.slice(forms.length).map((): ColumnForm => 'text') : []
  return {
    kind: 'cells',
    delimiter: split.delimiter,
    forms: [...forms, ...extra],
    header: block.header,
    wrapped,
    decimal: split.decimal,
    decimalUnclear: split.decimalUnclear,
    monthFirst: monthLeads(dates),
    firstLine: block.firstLine,
  }
}

/** The cells of a line that may be a row of samples: some cell is a value. */
function rowCells(text: string, split: Split): string[] | null {
  if (text === '' || text.length > LONGEST_ROW || commentText(text, split.delimiter) !== null) return null
  const cells = cellsOf(text, split.delimiter)
  return cells.some(cell => isValue(cellForm(cell, split.decimal))) ? cells : null
}

const isValue = (form: CellForm): boolean => form === 'number' || form === 'grouped' || form === 'quantity'

/** What most cells of each column are, among the rows of the usual width. */
function columnForms(rows: readonly (readonly string[])[], split: Split): ColumnForm[] {
  const step = Math.max(1, Math.floor(rows.length / 400))
  return Array.from({ length: split.width }, (_, column) => {
    const counts = new Map<ColumnForm, number>()
    for (let i = 0; i < rows.length; i += step) {
      const form = cellForm(rows[i]?.[column] ?? '', split.decimal)
      if (form === 'missing') continue
      const kept: ColumnForm = isValue(form) ? 'number' : (form as ColumnForm)
      counts.set(kept, (counts.get(kept) ?? 0) + 1)
    }
    const [most] = [...counts].sort((a, b) => b[1] - a[1])
    return most?.[0] ?? 'text'
  })
}

interface Block {
  readonly header: HeaderLine | null
  readonly firstLine: number
  rows: number
}

/** Runs of rows of the usual shape, each from a header that differs from the one before, or from the first row. */
function blocksOf(
  texts: readonly string[],
  rows: readonly { line: number; cells: readonly string[] | null }[],
  split: Split,
  forms: readonly ColumnForm[],
): Block[] {
  const blocks: Block[] = []
  let current: Block | null = null
  let textSince = true
  for (const { line, cells } of rows) {
    if (cells === null) {
      if (texts[line - 1] !== '') textSince = true
      continue
    }
    if (!fits(cells, split, forms)) continue
    if (textSince) {
      const header = headerAbove(texts, line, split, forms)
      const sameHeader = header === null || header.names.join() === current?.header?.names.join()
      if (current === null || !sameHeader) {
        current = { header, firstLine: header ? header.lastLine + 1 : line, rows: 0 }
        blocks.push(current)
      }
      textSince = false
    }
    if (current) current.rows++
  }
  return blocks
}

/** A row of the usual width whose numeric cells are numbers. */
const fits = (cells: readonly string[], split: Split, forms: readonly ColumnForm[]): boolean =>
  cells.length === split.width && fitsSoFar(cells, split, forms)

/** A row whose cells are what their columns are, as far as both go. */
const fitsSoFar = (cells: readonly string[], split: Split, forms: readonly ColumnForm[]): boolean =>
  cells.slice(0, forms.length).every((cell, c) => {
    const form = cellForm(cell, split.decimal)
    if (form === 'missing' || forms[c] === 'text') return true
    return forms[c] === 'number' ? isValue(form) : form === forms[c]
  })

/** The names, and the units below them, that stand directly above a row. A header behind a comment mark counts too. */
function headerAbove(
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
    const cells = headerCells(comment ?? text, split, width)
    asked++
    if (cells === null) {
      // Comments and rulers (`-----`) may stand between a header and its rows; other text may not.
      // So may rows of another width: one whose last cell is filled, say.
      const ruler = /^[-=_+|\s]*$/.test(text)
      const row = rowCells(text, split)
      if (comment === null && !ruler && !(row && fitsSoFar(row, split, forms))) return null
      continue
    }
    const alone = { names: cells, units: [], line: above, lastLine: above }
    if (!isUnitRow(cells)) return alone
    const names = headerAbove(texts, above, split, forms)
    return names ? { ...names, units: names.units.length > 0 ? names.units : cells, lastLine: above } : alone
  }
  return null
}

/** Cells of a line of names: as many as a row has (more where the last columns are rarely filled), none a number. */
function headerCells(text: string, split: Split, width: number): string[] | null {
  const tries: readonly (readonly string[])[] = [
    cellsOf(text, split.delimiter),
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

const isUnitRow = (cells: readonly string[]): boolean => {
  const units = cells.filter(cell => cell !== '' && !/^[-\s[\]()]*$/.test(cell))
  // `t` is a time by name before it is a tonne.
  return units.length > 0 && units.every(cell => unitMeaning(cell) !== null && !/^t$/i.test(cell))
}

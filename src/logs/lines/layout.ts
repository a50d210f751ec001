import { type Decimal, type DecimalMarks, isMissing, parseNumber } from '../cells/number.ts'
import { monthLeads } from '../cells/stamp.ts'
import type { LogOptions } from '../options.ts'
import { headerMeaning } from '../words/header.ts'
import { unitMeaning } from '../words/units.ts'
import { type Block, blocksOf, type RowsAbove, rowsAbove } from './blocks.ts'
import { type ColumnForm, columnForms, LONGEST_ROW, rowCells } from './columnForm.ts'
import { belowColumnNumbers } from './columnNumbers.ts'
import { bestSplit, cellsOf, type Split } from './delimiter.ts'
import type { HeaderLine } from './headerLine.ts'
import { keyedLine } from './keyed.ts'
import { commentText, type Delimiter, withoutResidue } from './split.ts'
import { spreadPlace } from './spread.ts'

interface CellsLayout {
  readonly kind: 'cells'
  readonly delimiter: Delimiter
  readonly forms: readonly ColumnForm[]
  readonly header: HeaderLine | null
  /** Rows of numbers above the header, which are no samples of this record. */
  readonly above: RowsAbove | null
  /** Whole lines stand in quotes. */
  readonly wrapped: boolean
}

export type Layout = (
  | CellsLayout
  | {
      readonly kind: 'keys' /** One name and value a line, the lines of a row below one another. */
      readonly isOnePerLine: boolean
    }
  | { readonly kind: 'json-lines' }
  | { readonly kind: 'json' }
) & {
  readonly decimal: DecimalMarks
  readonly decimalUnclear: boolean
  /** A number that the log itself would read with another decimal mark than the one that was given. */
  readonly decimalAgainst: string | null
  readonly monthFirst: boolean
  /** Lines before this one are a preamble: title, settings, results, header. */
  readonly firstLine: number
}

const SAMPLE_LINES = 500
/**
 * A block of rows that has its own header and is this much shorter than the next is a table of results, not
 * the record.
 */
const RESULTS_SHARE = 0.5

/** Understands the first lines of a log: what parts cells, which line names them, where the samples begin. */
export function understandLayout(lines: readonly string[], options: LogOptions): Layout | null {
  const json = jsonLayout(lines)
  const common = {
    decimal: options.decimal ?? 'point',
    decimalUnclear: false,
    decimalAgainst: null,
    monthFirst: false,
    firstLine: 1,
  } as const
  if (json) return { kind: json, ...common, firstLine: json === 'json-lines' ? firstSampleLine(lines) : 1 }
  const bare = lines.map(withoutResidue)
  const wrapped = isWrapped(bare)
  const texts = wrapped ? bare.map(unwrapped) : bare
  const sample = sampleOf(
    texts.filter(text => text !== '' && text.length <= LONGEST_ROW && commentText(text) === null),
  )
  const split = bestSplit(sample, options.decimal)
  const keyed = keyedShare(sample, options.decimal)
  if (keyed.share > 0.5 && keyed.share > (split?.score ?? 0)) {
    return { kind: 'keys', ...common, decimal: keyed.decimal, isOnePerLine: isOnePerLine(sample) }
  }
  if (!split) return null
  const layout = cellsLayout(texts, split, wrapped)
  if (!layout || options.decimal === undefined) return layout
  return { ...layout, decimalAgainst: otherwiseRead(sample, options.decimal) }
}

/**
 * The first number that reads otherwise where the log's own decimal mark is sought; `null` where none clearly
 * does.
 */
function otherwiseRead(sample: readonly string[], given: Decimal): string | null {
  const own = bestSplit(sample)
  if (!own || own.decimal === given || own.decimalUnclear) return null
  const cells = sample.flatMap(line => cellsOf(line, own.delimiter))
  const differs = (cell: string): boolean => {
    const value = parseNumber(cell, own.decimal)
    return value !== null && value !== parseNumber(cell, given)
  }
  return cells.find(differs) ?? null
}

/** Lines from the whole of the head, more of them from its beginning. */
function sampleOf(texts: readonly string[]): readonly string[] {
  if (texts.length <= SAMPLE_LINES) return texts
  const first = texts.slice(0, SAMPLE_LINES / 5)
  const step = (texts.length - first.length) / (SAMPLE_LINES - first.length)
  const rest = Array.from(
    { length: SAMPLE_LINES - first.length },
    (_, i) => texts[first.length + spreadPlace(i, step)] ?? '',
  )
  return [...first, ...rest]
}

function jsonLayout(lines: readonly string[]): 'json' | 'json-lines' | null {
  const full = lines
    .filter(line => line !== '')
    .map(line => line.replace(/^\ufeff/, '').trim())
    .filter(line => line !== '')
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

/**
 * Objects at the top of JSON Lines none of whose keys comes again are settings: the samples begin after them.
 */
function firstSampleLine(lines: readonly string[]): number {
  const keys = lines.slice(0, 60).map(keysOf)
  const next = keys.findIndex((own, i) =>
    own.some(key => keys.some((others, k) => k > i && others.includes(key))),
  )
  return Math.max(0, next) + 1
}

function keysOf(line: string): string[] {
  try {
    const value: unknown = JSON.parse(line.trim().replace(/,$/, ''))
    return typeof value === 'object' && value !== null ? Object.keys(value) : []
  } catch {
    return []
  }
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

/** So many names at most a row of one name a line has, and so often each must come again. */
const MOST_NAMES = 12
const OFTEN = 5

/**
 * Whether each line holds one name and value, nothing before it, and a few names take turns: they are of one
 * row.
 */
function isOnePerLine(sample: readonly string[]): boolean {
  const counts = new Map<string, number>()
  for (const line of sample) {
    const keyed = keyedLine(line)
    if (keyed === null) continue
    const [pair, ...others] = keyed.pairs
    if (!pair || others.length > 0 || keyed.lead !== '') return false
    counts.set(pair[0], (counts.get(pair[0]) ?? 0) + 1)
  }
  const often = Math.max(OFTEN, 0.7 * Math.max(0, ...counts.values()))
  return counts.size > 1 && counts.size <= MOST_NAMES && [...counts.values()].every(count => count >= often)
}

/**
 * The lines that are not blank, which most of a thinned log are, with the cells of those that may be rows.
 */
function rowsOf(
  texts: readonly string[],
  split: Split,
): { readonly line: number; readonly cells: readonly string[] | null }[] {
  const rows = []
  for (let i = 0; i < texts.length; i++) {
    const text = texts[i]!
    if (text !== '') rows.push({ line: i + 1, cells: rowCells(text, split) })
  }
  return rows
}

function cellsLayout(texts: readonly string[], split: Split, wrapped: boolean): Layout | null {
  const rows = rowsOf(texts, split)
  const sample = rows.filter(row => row.cells !== null && row.cells.length === split.width)
  const forms = columnForms(
    sample.map(row => row.cells ?? []),
    split,
  )
  const blocks = blocksOf(texts, rows, split, forms)
  const block = blocks.find(
    (b: Block, i) => b.rows >= RESULTS_SHARE * Math.max(0, ...blocks.slice(i + 1).map(c => c.rows)),
  )
  if (!block) return null
  const firstLine = belowColumnNumbers(rows, block, split)
  const dates = sample
    .slice(0, 2000)
    .flatMap(row => (row.cells ?? []).filter((_, c) => /^date/.test(forms[c] ?? '')))
  const extra = block.header ? block.header.names.slice(forms.length).map((): ColumnForm => 'text') : []
  const isEmpty = (c: number): boolean => sample.every(({ cells }) => isMissing(cells?.[c] ?? ''))
  const header = block.header && withUnitsBeside(block.header, isEmpty)
  return {
    kind: 'cells',
    delimiter: split.delimiter,
    forms: [
      ...forms.map((form, c) => (form === 'text' && isEmpty(c) ? formOfEmpty(header, c) : form)),
      ...extra,
    ],
    header,
    above: rowsAbove(texts, rows, { ...block, firstLine }, split),
    wrapped,
    decimal: split.decimal,
    decimalUnclear: split.decimalUnclear,
    decimalAgainst: null,
    monthFirst: monthLeads(dates),
    firstLine,
  }
}

/** A column that is filled later, or seldom, is what its name says. */
const formOfEmpty = (header: HeaderLine | null, c: number): ColumnForm => {
  const { role } = headerMeaning(header?.names[c] ?? '', header?.units[c])
  return role === 'force' || role === 'travel' || role === 'extension' ? 'number' : 'text'
}

/** `Time;s;Force;N`: a name of a column without cells that is a unit is that of the column before it. */
function withUnitsBeside(header: HeaderLine, isEmpty: (c: number) => boolean): HeaderLine {
  const { names, units } = header
  const beside = names.map((_, c) => {
    const next = names[c + 1] ?? ''
    const isUnit = unitMeaning(next) !== null && isEmpty(c + 1)
    return isUnit && !isEmpty(c) && headerMeaning(names[c] ?? '', units[c]).unitText === '' ? next : ''
  })
  return beside.every(unit => unit === '')
    ? header
    : { ...header, units: names.map((_, c) => beside[c] || (units[c] ?? '')) }
}

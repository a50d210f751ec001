import { cellForm, isValue } from '../cells/cell.ts'
import { parseNumber } from '../cells/number.ts'
import { parseClock, parseDateTime } from '../cells/stamp.ts'
import { cellsOf } from '../lines/delimiter.ts'
import { isUnitRow } from '../lines/headerLine.ts'
import type { Layout } from '../lines/layout.ts'
import { commentText, type Delimiter, withoutResidue } from '../lines/split.ts'
import { FEWEST_SAMPLES } from '../meaning/logProblems.ts'
import { headerMeaning } from '../words/header.ts'
import { namesRecord } from '../words/recordHeader.ts'
import type { LogPart } from './logPart.ts'
import { titlesOf } from './titles.ts'

const DELIMITERS: readonly Delimiter[] = ['\t', ';', '|', ',', ' ']
/** Units, a ruler, a comment: so many lines may stand between a header and its rows. */
const BELOW_HEADER = 4

/**
 * A table by its lines, counted from 0: where what belongs to it begins, its header (−1: none), one past its
 * last line.
 */
interface Span {
  from: number
  readonly header: number
  to: number
}

/**
 * Tables below one another, each with readings enough: each begins at a header beyond doubt or, without one,
 * where the clock starts again. Fewer than two where the file is one table.
 */
export function stackedTables(
  lines: readonly string[],
  layout: Layout & { readonly kind: 'cells' },
): LogPart[] {
  const spans = byHeaders(lines, layout)
  return spans.length > 1 ? withTitles(lines, spans) : byClock(lines, layout)
}

/** The cells of a line by the delimiter that parts most numbers. */
const numbersIn = (text: string): number =>
  /\d/.test(text)
    ? Math.max(...DELIMITERS.map(delimiter => cellsOf(text, delimiter).filter(isNumber).length), 0)
    : 0

const isNumber = (cell: string): boolean =>
  isValue(cellForm(cell, 'point')) ||
  isValue(cellForm(cell, 'comma')) ||
  /^(?:clock|date)/.test(cellForm(cell, 'point'))

const isRow = (text: string): boolean => commentText(text) === null && numbersIn(text) >= 2

/**
 * Whether rows enough for a record stand among the lines; most lines of a long table need not be looked at.
 */
function hasRows(lines: readonly string[], from: number, to: number): boolean {
  let rows = 0
  for (let i = from; i < to && rows < FEWEST_SAMPLES; i++) if (isRow(lines[i] ?? '')) rows++
  return rows >= FEWEST_SAMPLES
}

function byHeaders(lines: readonly string[], layout: Layout & { readonly kind: 'cells' }): Span[] {
  const first = layout.header ? withoutResidue(lines[layout.header.line - 1] ?? '') : null
  const headers = lines.flatMap((line, i) => (isHeader(line, first) && rowsFollow(lines, i) ? [i] : []))
  // A header of two lines that both would do is one.
  const starts = headers.filter((at, i) => i === 0 || lines.slice(headers[i - 1]! + 1, at).some(isRow))
  const spans: Span[] = []
  for (const [i, header] of starts.entries()) {
    const to = starts[i + 1] ?? lines.length
    if (!hasRows(lines, header + 1, to)) continue
    const before = spans.at(-1)
    const from = gapStart(lines, before ? before.header : -1, header)
    if (before) before.to = from
    spans.push({ from, header, to: lines.length })
  }
  return spans
}

function isHeader(given: string, first: string | null): boolean {
  if (!/\p{L}/u.test(given)) return false
  const bare = withoutResidue(given)
  if (bare === first) return true
  const text = commentText(bare) ?? bare
  return DELIMITERS.some(delimiter => {
    const names = cellsOf(text, delimiter)
    return (
      names.length >= 2 &&
      names.length <= 256 &&
      !names.some(cell => /^\d|[=:]\s*[+\-−]?[.,]?\d/.test(cell) || isNumber(cell)) &&
      namesRecord({ names, units: [] }, delimiter)
    )
  })
}

function rowsFollow(lines: readonly string[], header: number): boolean {
  let asked = 0
  for (let i = header + 1; i < lines.length && asked < BELOW_HEADER; i++) {
    const text = withoutResidue(lines[i] ?? '')
    if (text === '') continue
    if (isRow(text)) return true
    const isBetween =
      commentText(text) !== null ||
      /^[-=_+|\s:]*$/.test(text) ||
      DELIMITERS.some(delimiter => isUnitRow(cellsOf(text, delimiter)))
    if (!isBetween) return false
    asked++
  }
  return false
}

/**
 * Where what belongs to a header begins: after the last row before it, and after the last blank line with
 * text on both sides, for what follows the rows at once (totals, a remark) is theirs.
 */
function gapStart(lines: readonly string[], after: number, header: number): number {
  let start = header
  while (start > after + 1 && !isRow(lines[start - 1] ?? '')) start--
  const isBlank = (i: number): boolean => (lines[i] ?? '').trim() === ''
  const texts = (from: number, to: number): boolean => lines.slice(from, to).some(line => line.trim() !== '')
  if (after < 0) return start
  for (let i = header - 1; i > start; i--)
    if (isBlank(i) && texts(start, i) && texts(i + 1, header)) return i + 1
  return start
}

/** Of a log whose clock starts again without a header. */
function byClock(lines: readonly string[], layout: Layout & { readonly kind: 'cells' }): LogPart[] {
  const { header, delimiter, firstLine } = layout
  const named =
    header?.names.findIndex((name, c) => headerMeaning(name, header.units[c]).role === 'time') ?? -1
  const stamped = layout.forms.findIndex(form => form === 'clock' || form === 'date-time')
  const column = named >= 0 ? named : stamped >= 0 ? stamped : layout.forms.length > 1 ? 0 : -1
  if (column < 0) return []
  const starts: number[] = [firstLine - 1]
  let firstTime = Number.NaN
  let before = Number.NaN
  let rows = 0
  for (let i = firstLine - 1; i < lines.length; i++) {
    const text = withoutResidue(lines[i] ?? '')
    if (text === '' || commentText(text, delimiter) !== null) continue
    const time = timeOf(cellsOf(text, delimiter)[column] ?? '', layout)
    if (time === null) continue
    if (Number.isNaN(firstTime)) firstTime = time
    if (rows >= FEWEST_SAMPLES && time < before && time - firstTime <= 0.1 * (before - firstTime)) {
      starts.push(i)
      firstTime = time
      rows = 0
    }
    before = time
    rows++
  }
  if (starts.length < 2 || rows < FEWEST_SAMPLES) return []
  const head = { from: 0, to: firstLine - 1 }
  return starts.map((from, i) => {
    const to = starts[i + 1] ?? lines.length
    return partOf(lines, null, { from, header: header ? header.line - 1 : -1, to }, head)
  })
}

const timeOf = (cell: string, { decimal, monthFirst }: Layout): number | null =>
  parseNumber(cell, decimal) ?? parseDateTime(cell, monthFirst) ?? parseClock(cell)

function withTitles(lines: readonly string[], spans: readonly Span[]): LogPart[] {
  const titles = titlesOf(lines, spans)
  const [first] = spans
  if (!first) return []
  // What stands above the first table belongs to all; its title does not.
  const head = { from: 0, to: titles?.[0]?.line ?? first.header }
  return spans.map((span, i) =>
    partOf(lines, titles?.[i]?.title ?? null, i === 0 ? { ...span, from: head.to } : span, head),
  )
}

/** A header with the units below it. */
function headerText(lines: readonly string[], header: number): string {
  const below = lines.slice(header + 1, header + 1 + BELOW_HEADER)
  const rows = below.findIndex(isRow)
  return [lines[header] ?? '', ...below.slice(0, Math.max(0, rows))]
    .map(line => withoutResidue(line))
    .filter(line => line !== '')
    .join(' / ')
}

function partOf(
  lines: readonly string[],
  title: string | null,
  { from: start, header, to }: Span,
  head: { readonly from: number; readonly to: number },
): LogPart {
  let above = lines.slice(head.from, head.to)
  // So many rows are no settings, but a table that is none of these.
  if (hasRows(above, 0, above.length)) above = above.map(line => (isRow(line) ? '' : line))
  let from = start
  while (from < to && (lines[from] ?? '').trim() === '') from++
  let last = to
  while (last > from && (lines[last - 1] ?? '').trim() === '') last--
  return {
    title,
    firstLine: from + 1,
    lastLine: last,
    header: header < 0 ? '' : headerText(lines, header),
    text: [...above, ...lines.slice(from, last), ''].join('\n'),
    gap: { after: above.length, count: from - above.length },
    isBeside: false,
  }
}

import { printable } from '../core/printable.ts'
import type { Problem } from '../core/problem.ts'
import { cellForm, isValue } from './cells/cell.ts'
import { isCutShort } from './lines/cutLine.ts'
import { decodeSpan } from './lines/decode.ts'
import { cellsOf } from './lines/delimiter.ts'
import type { Layout } from './lines/layout.ts'
import { type LineGap, lineIn, NO_GAP } from './lines/lineGap.ts'
import { commentText, linesOf, quoteStaysOpen, withoutResidue } from './lines/split.ts'
import { FEWEST_SAMPLES } from './meaning/logProblems.ts'
import { CellRows, isFigures, takeComment, takeTextLine } from './table/cellRows.ts'
import { type PlainRows, plainRows } from './table/fastRows.ts'
import { GatheredKeys } from './table/gatheredKeys.ts'
import { parsed, samplesOfDocument, takeJsonLine, takeJsonSamples } from './table/json.ts'
import { KeyRows } from './table/keyRows.ts'
import { takeNumbers } from './table/plainNumbers.ts'
import type { SampleTable } from './table/sampleTable.ts'
import { type SharedEnd, type SharedRows, shareRows } from './table/sharedRows.ts'

const LF = 10
const CR = 13
/** A line longer than this is no line of samples. */
const LONGEST_LINE = 1 << 20
/** A quoted cell may run over this many lines; beyond, the quote is a stray one. */
const MOST_QUOTED_LINES = 50
/** Texts kept for the words in them. */
const MOST_TEXTS = 2000
/** Complete lines by which the last one is judged. */
const LAST_LINES = 20
/** And the bytes kept of them. */
const TAIL_BYTES = 4096

/**
 * Turns the bytes of a log (UTF-8) into rows of its table: plain rows by the fast path, all others line by
 * line.
 */
export class LogBody {
  /** Preamble, header and comments. */
  readonly texts: { line: number; text: string }[] = []
  private line: number
  private carry: Uint8Array = new Uint8Array(0)
  private tail: Uint8Array = new Uint8Array(0)
  private document = ''
  private readonly decoder = new TextDecoder()
  private readonly plain: PlainRows | null
  private last = false
  private readonly cells: CellRows | null
  private readonly keys: KeyRows
  private readonly gathered: GatheredKeys | null

  constructor(
    private readonly layout: Layout,
    private readonly table: SampleTable,
    private readonly gap: LineGap = NO_GAP,
  ) {
    this.line = lineIn(gap, 1)
    this.plain = plainRows(layout)
    this.keys = new KeyRows(table, layout)
    this.gathered = layout.kind === 'keys' && layout.isOnePerLine ? new GatheredKeys(this.keys) : null
    this.cells = layout.kind === 'cells' ? new CellRows(layout, table) : null
  }

  push(chunk: Uint8Array): void {
    if (this.layout.kind === 'json') {
      this.document += this.decoder.decode(chunk, { stream: true })
      return
    }
    let bytes = chunk
    if (this.carry.length > 0) {
      // Only as much of the chunk as ends the line begun before is copied.
      const end = firstLineEnd(chunk)
      const head = concat(this.carry, chunk.subarray(0, end < 0 ? chunk.length : end))
      this.carry = new Uint8Array(0)
      this.takeLines(head)
      if (end < 0) return
      bytes = this.carry.length > 0 ? concat(this.carry, chunk.subarray(end)) : chunk.subarray(end)
      this.carry = new Uint8Array(0)
    }
    this.takeLines(bytes)
  }

  /** Takes the whole lines of `bytes`; what follows the last line end waits for more. */
  private takeLines(bytes: Uint8Array): void {
    const end = lastLineEnd(bytes)
    const stop = end > 0 ? this.consume(bytes, end) : 0
    if (stop > 0) this.tail = lastBytes(this.tail, bytes.subarray(0, stop))
    this.carry = bytes.slice(stop)
    if (this.carry.length > LONGEST_LINE) {
      this.table.unread(this.line, decodeSpan(this.carry, 0, 200))
      this.carry = this.carry.slice(-2)
    }
  }

  /**
   * The bytes of the file from `from` up to `to`, which are those that come next, to be read by several
   * threads; `null` where not all rows are plain numbers, they have not begun, or a line begun before goes
   * on.
   */
  shareRows(from: number, to: number, partBytes?: number): SharedRows | null {
    if (!this.plain || this.carry.length > 0 || this.line < this.layout.firstLine) return null
    return shareRows(
      this.plain,
      this.table.roomBehind().slice(0, this.plain.columns.length),
      from,
      to,
      partBytes,
    )
  }

  /** Takes the rows that were read so, as if their bytes had been pushed; `tail` is the last of these. */
  takeShared({ rows, extents }: SharedEnd, tail: Uint8Array): void {
    this.table.endRowsApart(rows, this.line, extents)
    this.line += rows
    this.tail = lastBytes(this.tail, tail)
  }

  private consume(bytes: Uint8Array, end: number): number {
    let at = 0
    while (at < end) {
      if (this.plain && this.line >= this.layout.firstLine) {
        const before = this.table.rows
        at = takeNumbers(bytes, at, end, this.line, this.plain, this.table)
        this.line += this.table.rows - before
        if (at >= end) break
      }
      const next = this.takeLogicalLine(bytes, at, end)
      if (next < 0) return at
      at = next
    }
    return at
  }

  /**
   * Takes one line, with those that a quoted cell of it runs on to. Gives where the next begins, −1 if more
   * bytes are needed.
   */
  private takeLogicalLine(bytes: Uint8Array, from: number, end: number): number {
    let stop = lineEnd(bytes, from, end)
    let next = afterLineEnd(bytes, stop)
    let text = decodeSpan(bytes, from, stop)
    let lines = 1
    if (this.layout.kind === 'cells' && text.includes('"') && this.line >= this.layout.firstLine) {
      const first = { text, next }
      while (quoteStaysOpen(text, this.layout.delimiter) && lines < MOST_QUOTED_LINES) {
        if (next >= end) {
          if (next - from < LONGEST_LINE && !this.last) return -1
          lines = MOST_QUOTED_LINES
          break
        }
        stop = lineEnd(bytes, next, end)
        text += `\n${decodeSpan(bytes, next, stop)}`
        next = afterLineEnd(bytes, stop)
        lines++
      }
      if (lines >= MOST_QUOTED_LINES) {
        text = first.text
        next = first.next
        lines = 1
      }
    }
    this.takeLine(text)
    this.line += lines
    if (this.line === this.gap.after + 1) this.line += this.gap.count
    return next
  }

  private takeLine(text: string): void {
    const { line, layout } = this
    if (line < layout.firstLine) {
      this.takePreamble(text)
      return
    }
    const rows = this.table.rows
    if (this.cells) this.cells.take(text, line)
    else if (layout.kind === 'keys') (this.gathered ?? this.keys).takeLine(text, line)
    else if (!takeJsonLine(text.trim(), line, this.keys) && text.trim() !== '') {
      const comment = commentText(text)
      if (comment === null) takeTextLine(this.table, text, line)
      else takeComment(this.table, text, comment, line, /^[{[].*\d/.test(comment))
    }
    if (this.table.rows === rows) this.keepText(text)
  }

  private takePreamble(text: string): void {
    const bare = withoutResidue(text)
    if (isFigures(bare) && !this.isCounted(bare)) this.table.unread(this.line, bare)
    this.keepText(bare)
    if (this.layout.kind !== 'cells' || this.line !== this.layout.header?.line) {
      this.table.note(this.line, commentText(bare) ?? bare)
    }
  }

  /** Whether it is told already among the rows above the record. */
  private isCounted(text: string): boolean {
    const { layout } = this
    if (layout.kind !== 'cells' || layout.above === null) return false
    if (layout.above.count < FEWEST_SAMPLES && !layout.above.headed) return false
    const cells = cellsOf(text, layout.delimiter)
    return cells.length > 1 && cells.every(cell => isValue(cellForm(cell, layout.decimal)))
  }

  private keepText(text: string): void {
    if (text.trim() !== '' && this.texts.length < MOST_TEXTS)
      this.texts.push({ line: this.line, text: text.slice(0, 500) })
  }

  /** Ends the log: takes the last line, or drops it where it was cut; a document is read as a whole. */
  finish(name: string): Problem | null {
    if (this.layout.kind === 'json') return this.finishDocument(name)
    this.last = true
    const rest = this.carry
    this.carry = new Uint8Array(0)
    const end = lastLineEnd(rest)
    let at = end > 0 ? this.consume(rest, end) : 0
    while (at < rest.length) {
      const stop = lineEnd(rest, at, rest.length)
      const text = decodeSpan(rest, at, stop)
      const tail = linesOf(decodeSpan(this.tail, 0, this.tail.length))
        .filter(line => line.trim() !== '')
        .slice(-LAST_LINES)
      const cut =
        stop === rest.length && this.line >= this.layout.firstLine && isCutShort(text, tail, this.layout)
      if (cut) this.table.cutLine = { line: this.line, text: printable(text) }
      else this.takeLine(text)
      this.line++
      at = Math.max(afterLineEnd(rest, stop), stop + (stop === rest.length ? 1 : 0))
    }
    this.gathered?.end()
    return null
  }

  private finishDocument(name: string): Problem | null {
    this.document += this.decoder.decode()
    const value = parsed(withoutResidue(this.document))
    this.document = ''
    if (value === undefined) {
      return {
        where: name,
        what: 'begins like a JSON document but is not a whole one.',
        cure: 'Export it again, or as JSON Lines, one sample a line.',
      }
    }
    const found = samplesOfDocument(value)
    if (!found)
      return {
        where: name,
        what: 'the JSON document holds no array of samples.',
        cure: 'Samples are an array of objects or arrays, or one array for each column.',
      }
    for (const [i, text] of found.texts.entries()) {
      if (this.texts.length < MOST_TEXTS) this.texts.push({ line: i + 1, text })
      this.table.note(1, text)
    }
    takeJsonSamples(found, this.keys, this.table)
    return null
  }
}

/** The last bytes of those taken before and those taken now, however few these are; a copy. */
function lastBytes(before: Uint8Array, taken: Uint8Array): Uint8Array {
  return taken.length >= TAIL_BYTES ? taken.slice(-TAIL_BYTES) : concat(before, taken).slice(-TAIL_BYTES)
}

function concat(a: Uint8Array, b: Uint8Array): Uint8Array {
  const all = new Uint8Array(a.length + b.length)
  all.set(a)
  all.set(b, a.length)
  return all
}

/**
 * One past the last line end in `bytes`, 0 where there is none. A carriage return at the very end may be half
 * of one.
 */
function lastLineEnd(bytes: Uint8Array): number {
  const lf = bytes.lastIndexOf(LF) + 1
  if (lf > 0) return lf
  const cr = bytes.subarray(0, -1).lastIndexOf(CR)
  return cr + 1
}

/** One past the first line end in `bytes`, −1 where there is none that is whole. */
function firstLineEnd(bytes: Uint8Array): number {
  const lf = bytes.indexOf(LF)
  if (lf >= 0) return lf + 1
  const cr = bytes.indexOf(CR)
  return cr >= 0 && cr < bytes.length - 1 ? cr + 1 : -1
}

function lineEnd(bytes: Uint8Array, from: number, end: number): number {
  let at = from
  while (at < end && bytes[at] !== LF && bytes[at] !== CR) at++
  return at
}

function afterLineEnd(bytes: Uint8Array, stop: number): number {
  if (stop >= bytes.length) return stop
  return bytes[stop] === CR && bytes[stop + 1] === LF ? stop + 2 : stop + 1
}

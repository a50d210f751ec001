import { fine, type Outcome, wrong } from '../core/problem.ts'
import type { Recording } from '../core/recording.ts'
import { detectEncoding, type Encoding } from './lines/encoding.ts'
import { type Layout, understandLayout } from './lines/layout.ts'
import { type LineGap, layoutIn, lineIn, NO_GAP } from './lines/lineGap.ts'
import { linesOf } from './lines/split.ts'
import { thinnedLines } from './lines/thinned.ts'
import { LogBody } from './logBody.ts'
import { interpretTable } from './meaning/interpret.ts'
import { noNumbers } from './meaning/logProblems.ts'
import type { LogOptions } from './options.ts'
import { joinedTables, type ReadPart, readParts } from './parts/readParts.ts'
import { type Memory, SampleTable } from './table/sampleTable.ts'
import type { SharedEnd, SharedRows } from './table/sharedRows.ts'

/** Takes the bytes of one log as they come, in pieces of any size, and gives its recording at the end. */
export interface LogReader {
  push(chunk: Uint8Array): void
  /**
   * Has the bytes of the file from `from` up to `to`, which come next and begin a line, read by
   * `readSharedRows` in several threads; in shared memory only. `null` where they are not all rows of plain
   * numbers in UTF-8, and before the beginning of the log is understood.
   */
  shareRows(from: number, to: number): SharedRows | null
  /**
   * Takes the rows that were read so, as if their bytes had been pushed; `tail` is the last of these, a few
   * lines.
   */
  takeShared(end: SharedEnd, tail: Uint8Array): void
  finish(): Outcome<Recording>
}

/** What is understood of a log is settled on this much of its beginning. */
export const HEAD_BYTES = 256 * 1024
/** Lines may be shorter than those of the beginning by this share. */
const ROOM = 1.05

/**
 * Opens a log of any shape. `name` stands in its messages; `sizeHintBytes`, where the size is known, lets the
 * arrays be made once at their full length; in shared memory, another thread can read rows into them. Of a
 * cut, `gap` says what was left out. Problems are given by `finish`.
 */
export function openLog(
  name: string,
  options: LogOptions = {},
  sizeHintBytes = 0,
  memory: Memory = 'own',
  gap: LineGap = NO_GAP,
): LogReader {
  let head: Uint8Array[] | null = []
  let headLength = 0
  let opened: Outcome<LogReader> | null = null

  const open = (): void => {
    const bytes = joined(head ?? [], headLength)
    head = null
    const start = bytes.subarray(0, HEAD_BYTES)
    opened = openBody(
      start,
      bytes.length > HEAD_BYTES || headLength > HEAD_BYTES,
      name,
      options,
      sizeHintBytes,
      memory,
      gap,
    )
    if (opened.ok) opened.value.push(bytes)
  }

  return {
    push(given) {
      // A Node Buffer's own `slice` does not copy, and callers fill their buffer again: see it as plain
      // bytes.
      const chunk = new Uint8Array(given.buffer, given.byteOffset, given.length)
      if (head === null) {
        if (opened?.ok) opened.value.push(chunk)
        return
      }
      head.push(chunk.slice())
      headLength += chunk.length
      if (headLength > HEAD_BYTES) open()
    },
    shareRows: (from, to) => (opened?.ok ? opened.value.shareRows(from, to) : null),
    takeShared(end, tail) {
      if (opened?.ok) opened.value.takeShared(end, tail)
    },
    finish() {
      if (head !== null) open()
      if (opened === null) throw new Error('a log is opened before it is finished')
      return opened.ok ? opened.value.finish() : opened
    },
  }
}

/**
 * Reads a log whose bytes are all at hand. Tables that name their columns otherwise are each read by their
 * own header and joined.
 */
export function readLog(bytes: Uint8Array, name: string, options: LogOptions = {}): Outcome<Recording> {
  const read = readOneTable(bytes, name, options)
  if (read.ok) return read
  const joined = joinedTables(bytes, name, options, readOneTable)
  return joined ? fine(joined) : read
}

/** Each table of a file as a recording of its own; empty where the file holds one only. */
export const readEach = (bytes: Uint8Array, name: string, options: LogOptions = {}): ReadPart[] =>
  readParts(bytes, name, options, readOneTable)

function readOneTable(
  bytes: Uint8Array,
  name: string,
  options: LogOptions,
  gap: LineGap = NO_GAP,
): Outcome<Recording> {
  const log = openLog(name, options, bytes.length, 'own', gap)
  log.push(bytes)
  return log.finish()
}

function openBody(
  head: Uint8Array,
  more: boolean,
  name: string,
  options: LogOptions,
  sizeHintBytes: number,
  memory: Memory,
  gap: LineGap,
): Outcome<LogReader> {
  if (head.length === 0) {
    return wrong({
      where: name,
      what: 'the file is empty.',
      cure: 'Check that the logger wrote it, and to where.',
    })
  }
  const encoding = detectEncoding(head, name, options.encoding)
  if (!encoding.ok) return encoding
  const text = new TextDecoder(encoding.value.label).decode(head)
  const lines = linesOf(text)
  // The head may end within a line.
  if (more && lines.length > 1) lines.pop()
  const layout = understandLayout(thinnedLines(lines), options)
  if (!layout) {
    const first = lines.findIndex(line => line.trim() !== '')
    return wrong(noNumbers(name, first < 0 ? null : { line: lineIn(gap, first + 1), text: lines[first]! }))
  }
  const lineBytes = head.length / Math.max(1, lines.length)
  const table = new SampleTable(more ? (ROOM * sizeHintBytes) / lineBytes : lines.length + 1, memory)
  return { ok: true, value: decodedBody(encoding.value, layoutIn(gap, layout), table, name, options, gap) }
}

/** The body takes UTF-8; other encodings are turned into it on the way. */
function decodedBody(
  encoding: Encoding,
  layout: Layout,
  table: SampleTable,
  name: string,
  options: LogOptions,
  gap: LineGap,
): LogReader {
  const body = new LogBody(layout, table, gap)
  const decoder = encoding.label === 'utf-8' ? null : new TextDecoder(encoding.label)
  const encoder = new TextEncoder()
  let mark = encoding.markBytes
  return {
    shareRows: (from, to) => (decoder === null ? body.shareRows(from, to) : null),
    takeShared: (end, tail) => body.takeShared(end, tail),
    push(chunk) {
      const bytes = chunk.subarray(mark)
      mark -= Math.min(mark, chunk.length)
      body.push(decoder ? encoder.encode(decoder.decode(bytes, { stream: true })) : bytes)
    },
    finish() {
      if (decoder) body.push(encoder.encode(decoder.decode()))
      const problem = body.finish(name)
      if (problem) return wrong(problem)
      return interpretTable(table, { name, options, layout, encoding, texts: body.texts })
    },
  }
}

function joined(parts: readonly Uint8Array[], length: number): Uint8Array {
  if (parts.length === 1) return parts[0]!
  const all = new Uint8Array(length)
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}

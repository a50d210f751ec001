import { type Outcome, wrong } from '../core/problem.ts'
import type { Recording } from '../core/recording.ts'
import { detectEncoding, type Encoding } from './lines/encoding.ts'
import { type Layout, understandLayout } from './lines/layout.ts'
import { linesOf } from './lines/split.ts'
import { thinnedLines } from './lines/thinned.ts'
import { LogBody } from './logBody.ts'
import { interpretTable } from './meaning/interpret.ts'
import { noNumbers } from './meaning/logProblems.ts'
import type { LogOptions } from './options.ts'
import type { PlainBlock, PlainRoom } from './table/plainBlock.ts'
import { type Memory, SampleTable } from './table/sampleTable.ts'

/** Takes the bytes of one log as they come, in pieces of any size, and gives its recording at the end. */
export interface LogReader {
  push(chunk: Uint8Array): void
  /**
   * Room for rows that `readPlainBlock` reads apart while the next `bytes` are pushed, where all rows are plain numbers
   * in UTF-8; `null` otherwise, and before the beginning of the log is understood. Asked for once.
   */
  roomBehind(bytes: number): PlainRoom | null
  /** Takes rows that were read apart as if their bytes had come. False where they cannot follow what came before. */
  takeBlock(block: PlainBlock): boolean
  finish(): Outcome<Recording>
}

/** What is understood of a log is settled on this much of its beginning. */
export const HEAD_BYTES = 256 * 1024
/** Lines may be shorter than those of the beginning by this share. */
const ROOM = 1.05

/**
 * Opens a log of any shape. `name` stands in its messages; `sizeHintBytes`, where the size is known, lets the arrays
 * be made once at their full length; in shared memory, another thread can read rows into them. Problems are given by
 * `finish`.
 */
export function openLog(
  name: string,
  options: LogOptions = {},
  sizeHintBytes = 0,
  memory: Memory = 'own',
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
    )
    if (opened.ok) opened.value.push(bytes)
  }

  return {
    push(given) {
      // A Node Buffer's own `slice` does not copy, and callers fill their buffer again: see it as plain bytes.
      const chunk = new Uint8Array(given.buffer, given.byteOffset, given.length)
      if (head === null) {
        if (opened?.ok) opened.value.push(chunk)
        return
      }
      head.push(chunk.slice())
      headLength += chunk.length
      if (headLength > HEAD_BYTES) open()
    },
    roomBehind: bytes => (opened?.ok ? opened.value.roomBehind(bytes) : null),
    takeBlock: block => opened?.ok === true && opened.value.takeBlock(block),
    finish() {
      if (head !== null) open()
      if (opened === null) throw new Error('a log is opened before it is finished')
      return opened.ok ? opened.value.finish() : opened
    },
  }
}

/** Reads a log whose bytes are all at hand. */
export function readLog(bytes: Uint8Array, name: string, options: LogOptions = {}): Outcome<Recording> {
  const log = openLog(name, options, bytes.length)
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
    return wrong(noNumbers(name, first < 0 ? null : { line: first + 1, text: lines[first]! }))
  }
  const lineBytes = head.length / Math.max(1, lines.length)
  const table = new SampleTable(more ? (ROOM * sizeHintBytes) / lineBytes : lines.length + 1, memory)
  return { ok: true, value: decodedBody(encoding.value, layout, table, lineBytes, name, options) }
}

/** The body takes UTF-8; other encodings are turned into it on the way. */
function decodedBody(
  encoding: Encoding,
  layout: Layout,
  table: SampleTable,
  lineBytes: number,
  name: string,
  options: LogOptions,
): LogReader {
  const body = new LogBody(layout, table)
  const decoder = encoding.label === 'utf-8' ? null : new TextDecoder(encoding.label)
  const encoder = new TextEncoder()
  let mark = encoding.markBytes
  return {
    roomBehind: bytes => (decoder === null ? body.roomBehind((ROOM * bytes) / lineBytes) : null),
    takeBlock: block => body.takeBlock(block),
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

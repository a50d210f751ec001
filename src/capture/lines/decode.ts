import { printable } from '../../core/printable.ts'
import { type LogForceUnit, parseForceUnit } from '../../core/units/force.ts'
import { createLineReader, type LogOptions } from '../../logs/index.ts'
import type { Columns, Remark } from '../journal/entries.ts'
import type { SampleBlock } from '../journal/frames.ts'
import { type DeviceLine, type Greeting, parseDeviceLine, STATUS } from '../protocol.ts'
import { growBlock } from './blockBuilder.ts'
import { cutLines } from './lineCutter.ts'

/** What became clear by the bytes of one read, in order. */
export type Decoded =
  | { readonly kind: 'columns'; readonly columns: Columns }
  | { readonly kind: 'samples'; readonly block: SampleBlock }
  | { readonly kind: 'remark'; readonly remark: Remark }
  | { readonly kind: 'greeting'; readonly greeting: Greeting }

export interface Decoder {
  /** Bytes as one read of the line gave them, cut anywhere, and when it returned. Never throws, whatever the bytes. */
  push(chunk: Uint8Array, arrivedS: number): Decoded[]
  /** Share of bytes, since it was last asked, that are no text: near 0 on a sound line. `null` for too few bytes. */
  oddShare(): number | null
}

/** Whole numbers as large as these come from a converter, not from a scale. */
const COUNTS_FROM = 20_000
const FEWEST_BYTES = 64
const LF = Uint8Array.of(10)
const [S, T, O, N] = [115, 116, 111, 110]

/** Lines of our own protocol are read here; all others by the reader of `logs`. */
export function createDecoder(options: LogOptions = {}): Decoder {
  let reader = createLineReader(options)
  let columns: Columns | null = null
  let tickS = 1e-6
  let deviceUnit: LogForceUnit = 'counts'
  let out: Decoded[] = []
  let arrivedS = 0
  let blockArrivedS = 0
  let toldOdd = 0
  let toldAll = 0
  const block = growBlock()

  const flush = (): void => {
    const samples = block.take(blockArrivedS)
    if (samples) out.push({ kind: 'samples', block: samples })
  }
  const remark = (kind: Remark['kind'], text: string): void => {
    flush()
    out.push({ kind: 'remark', remark: { what: 'remark', kind, atS: arrivedS, text, count: 1 } })
  }
  const setColumns = (next: Omit<Columns, 'what'>): void => {
    flush()
    columns = { what: 'columns', ...next }
    out.push({ kind: 'columns', columns })
  }

  const takeItems = (bytes: Uint8Array): void => {
    for (const item of reader.push(bytes, arrivedS)) {
      if (item.kind === 'note') {
        if (item.text !== '') remark(isGarbled(item.text) ? 'garbled' : 'line', item.text)
        continue
      }
      const looksLikeCounts = Number.isInteger(item.force) && Math.abs(item.force) >= COUNTS_FROM
      const unit = item.unit ?? (looksLikeCounts || columns?.unit === 'counts' ? 'counts' : 'N')
      const hasStamps = item.timeS !== null
      if (
        columns === null ||
        (unit !== columns.unit && !(item.unit === null && !columns.unitAssumed)) ||
        (hasStamps && columns.stamps === null)
      ) {
        setColumns({
          unit,
          unitAssumed: item.unit === null,
          stamps: hasStamps || columns?.stamps ? { tickS: null } : null,
          channels: [],
        })
      }
      // Lines that the reader held back came earlier than the one that made them clear.
      if (item.arrivedS !== blockArrivedS) flush()
      blockArrivedS = item.arrivedS
      block.add(item.force, item.timeS)
    }
  }

  const takeDeviceLine = (line: DeviceLine, text: string): void => {
    switch (line.kind) {
      case 'broken':
        remark('garbled', printable(text, 120))
        return
      case 'answer':
        remark('line', `the device answers: ${line.ok ? 'ok' : 'no'} ${printable(line.text, 120)}`)
        return
      case 'greeting':
        tickS = line.tickS ?? 1e-6
        deviceUnit = options.unit ?? parseForceUnit(line.unit) ?? 'counts'
        remark('device-reset', `the device greets: ${printable(text, 120)}`)
        setColumns({ unit: deviceUnit, unitAssumed: false, stamps: { tickS }, channels: [] })
        out.push({ kind: 'greeting', greeting: line })
        return
      case 'sample':
        if (columns === null) {
          deviceUnit = options.unit ?? 'counts'
          setColumns({
            unit: deviceUnit,
            unitAssumed: options.unit === undefined,
            stamps: { tickS },
            channels: [],
          })
        }
        if (line.status & STATUS.zeroSet) remark('zero', 'the device’s zero was set')
        if (line.status & STATUS.overrun) remark('trouble', 'the device’s buffer ran over: samples are lost')
        if (line.status & STATUS.noCell) {
          remark('trouble', `no load cell at the device (sample ${line.sequence})`)
          return
        }
        blockArrivedS = arrivedS
        block.add(line.value, line.ticks * tickS, line.sequence, line.status)
    }
  }

  const takeLine = (bytes: Uint8Array, from: number, to: number): void => {
    if (mayBeDeviceLine(bytes, from, to)) {
      const text = asciiOf(bytes, from, to)
      const line = parseDeviceLine(text)
      if (line) {
        flushSpan()
        takeDeviceLine(line, text)
        return
      }
    }
    takePlainLine(bytes, from, to)
  }

  /** Plain lines that stand together in one read, once the columns are known: handed on in one piece, which is much faster. */
  let span: { from: number; to: number } | null = null
  let read: Uint8Array | null = null
  const flushSpan = (): void => {
    if (span === null || read === null) return
    const { from, to } = span
    span = null
    takeItems(read.subarray(from, to))
    takeItems(LF)
  }
  const takePlainLine = (bytes: Uint8Array, from: number, to: number): void => {
    if (from === to) {
      // An empty line says nothing; within a piece its end would be taken for a part of the one before.
      flushSpan()
      return
    }
    const ended = bytes[to] === 10 || bytes[to] === 13
    if (columns !== null && bytes === read && ended) {
      if (span) span.to = to
      else span = { from, to }
      return
    }
    flushSpan()
    takeItems(bytes.subarray(from, to))
    const before = out.length
    takeItems(LF)
    if (columns === null && out.length === before && to > from) {
      remark('held', printable(asciiOf(bytes, from, to), 500))
    }
  }
  const cutter = cutLines(takeLine)

  return {
    push(chunk, atS) {
      out = []
      arrivedS = atS
      // A line in another encoding may hold any byte; only its own reader can cut it.
      if (options.encoding !== undefined) takeItems(chunk)
      else {
        read = chunk
        cutter.push(chunk)
        flushSpan()
      }
      flush()
      return out
    },
    oddShare() {
      const all = cutter.all - toldAll
      if (all < FEWEST_BYTES) return null
      const odd = cutter.odd - toldOdd
      toldAll = cutter.all
      toldOdd = cutter.odd
      // What a wrong speed made of the lines so far is no sample of what is to come.
      if (odd > all / 2 && columns === null) reader = createLineReader(options)
      return odd / all
    },
  }
}

/** Cheap test before the real one: first letter, and the star of the checksum. */
function mayBeDeviceLine(bytes: Uint8Array, from: number, to: number): boolean {
  const first = bytes[from]
  return to - from > 6 && bytes[to - 5] === 42 && (first === S || first === T || first === O || first === N)
}

function asciiOf(bytes: Uint8Array, from: number, to: number): string {
  let text = ''
  for (let i = from; i < to; i++) text += String.fromCharCode(bytes[i]!)
  return text
}

/** The reader shows what is no text as pictures of control characters or as replacement characters. */
const isGarbled = (text: string): boolean => /[\u2400-\u241f\ufffd]/.test(text)

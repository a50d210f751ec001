import { printable } from '../../core/printable.ts'
import { type LogForceUnit, parseForceUnit } from '../../core/units/force.ts'
import { createLineReader, type LineItem, type LineSample, type LogOptions } from '../../logs/index.ts'
import type { Columns, Remark } from '../journal/entries.ts'
import type { SampleBlock } from '../journal/frames.ts'
import { type DeviceLine, type Greeting, parseDeviceLine, STATUS } from '../protocol.ts'
import { growBlock } from './blockBuilder.ts'
import { cutLines } from './lineCutter.ts'
import { watchNoise } from './noise.ts'

/** What became clear by the bytes of one read, in order. */
export type Decoded =
  | { readonly kind: 'columns'; readonly columns: Columns }
  | { readonly kind: 'samples'; readonly block: SampleBlock }
  | { readonly kind: 'remark'; readonly remark: Remark }
  | { readonly kind: 'greeting'; readonly greeting: Greeting }

export interface Decoder {
  /**
   * Bytes as one read of the line gave them, cut anywhere, and when it returned. Never throws, whatever the
   * bytes.
   */
  push(chunk: Uint8Array, arrivedS: number): Decoded[]
  /** The line went away: half a line of before must not be joined to what comes when it is back. */
  breakOff(atS: number): Decoded[]
  /**
   * Share of bytes, since it was last asked, that are no text: near 0 on a sound line. `null` for too few
   * bytes.
   */
  oddShare(): number | null
}

/** Whole numbers as large as these come from a converter, not from a scale. */
const COUNTS_FROM = 20_000
const FEWEST_BYTES = 64
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
  const noise = watchNoise()
  /** Lines of text that came after noise, not taken yet. */
  const doubtful: { readonly bytes: Uint8Array; readonly arrivedS: number }[] = []

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

  /** A sample of a plain line. What its columns are is told first, where that is new. */
  const takeSample = (sample: LineSample, sampleArrivedS: number): void => {
    const { force, timeS, channels } = sample
    const looksLikeCounts = sample.unit === null && Math.abs(force) >= COUNTS_FROM && Number.isInteger(force)
    const unit = sample.unit ?? (looksLikeCounts || columns?.unit === 'counts' ? 'counts' : 'N')
    if (
      columns === null ||
      (unit !== columns.unit && !(sample.unit === null && !columns.unitAssumed)) ||
      (timeS !== null && columns.stamps === null) ||
      channels !== columns.channels
    ) {
      setColumns({
        unit: sample.unit === null && columns !== null && !columns.unitAssumed ? columns.unit : unit,
        unitAssumed: sample.unit === null && columns?.unitAssumed !== false,
        stamps: timeS !== null || columns?.stamps ? { tickS: null } : null,
        channels,
      })
    }
    // Lines that the reader held back came earlier than the one that made them clear.
    if (sampleArrivedS !== blockArrivedS) flush()
    blockArrivedS = sampleArrivedS
    block.add(force, timeS, sample.values)
  }
  const takeItems = (items: readonly LineItem[]): void => {
    for (const item of items) {
      if (item.kind === 'sample') takeSample(item, item.arrivedS)
      else if (item.text !== '') remark(isGarbled(item.text) ? 'garbled' : 'line', item.text)
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
          remark('trouble', 'no load cell at the device')
          return
        }
        if (line.status & STATUS.bitsSlipped) {
          remark('trouble', `the bits of sample ${line.sequence} slipped: it is left out`)
          return
        }
        blockArrivedS = arrivedS
        block.addNumbered(line.value, line.ticks * tickS, line.sequence, line.status)
    }
  }

  const takeLine = (bytes: Uint8Array, from: number, to: number): void => {
    if (mayBeDeviceLine(bytes, from, to)) {
      const text = asciiOf(bytes, from, to)
      const line = parseDeviceLine(text)
      if (line) {
        takeDeviceLine(line, text)
        return
      }
    }
    // An empty line says nothing.
    if (from === to) return
    const finding = noise.line(bytes, from, to)
    if (finding === 'noise') {
      for (const one of doubtful.splice(0))
        remark('garbled', printable(asciiOf(one.bytes, 0, one.bytes.length), 120))
      remark('garbled', printable(asciiOf(bytes, from, to), 120))
      return
    }
    if (finding === 'doubtful') {
      doubtful.push({ bytes: bytes.slice(from, to), arrivedS })
      return
    }
    // So much text without a letter spoilt is no noise any more: what came since the last of it counts.
    for (const one of doubtful.splice(0)) takePlainLine(one.bytes, 0, one.bytes.length, one.arrivedS)
    takePlainLine(bytes, from, to, arrivedS)
  }
  const takePlainLine = (bytes: Uint8Array, from: number, to: number, lineArrivedS: number): void => {
    const alike = reader.alike(bytes, from, to)
    if (alike) {
      takeSample(alike, lineArrivedS)
      return
    }
    const before = out.length
    takeItems(reader.line(bytes, from, to, lineArrivedS))
    if (columns === null && out.length === before) remark('held', printable(asciiOf(bytes, from, to), 500))
  }
  const cutter = cutLines(takeLine)

  return {
    push(chunk, atS) {
      out = []
      arrivedS = atS
      // A line in another encoding may hold any byte; only its own reader can cut it.
      if (options.encoding !== undefined) takeItems(reader.push(chunk, atS))
      else cutter.push(chunk)
      flush()
      return out
    },
    breakOff(atS) {
      out = []
      arrivedS = atS
      const dropped = cutter.drop()
      if (dropped.length > 0) remark('garbled', printable(asciiOf(dropped, 0, dropped.length), 120))
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

import { type LogForceUnit, N_PER } from '../core/units/force.ts'
import type { Columns, JournalContents, JournalEntry, Remark } from './journal/entries.ts'
import type { SampleBlock } from './journal/frames.ts'
import { watchSequence } from './timing/sequence.ts'
import type { Troubles } from './types.ts'

/** The samples of a journal in the device's order, before they have times. Arrays have one value a sample. */
export interface Gathered {
  /** In the unit of `columns`. */
  readonly values: Float64Array
  readonly arrivalS: Float64Array
  /** NaN where the device gave none. */
  readonly stampS: Float64Array
  /** Which of the device's samples it is; lost ones leave their number out. */
  readonly count: Float64Array
  readonly channels: readonly Float64Array[]
  /** Samples before which the device started anew, or may have: its clock and zero are no longer the same. */
  readonly breaks: readonly number[]
  readonly remarks: readonly { readonly remark: Remark; readonly sample: number }[]
  readonly columns: Columns | null
  readonly troubles: Troubles
}

/** Where gathered samples go, one after the other, as they arrived. */
export interface RowSink {
  add(row: {
    readonly value: number
    readonly arrivedS: number
    readonly stampS: number
    readonly place: number
    readonly block: SampleBlock
    readonly index: number
    /** For each channel of the block, which of the recording's it is; −1: none. */
    readonly channelPlaces: readonly number[]
  }): void
}

/**
 * Goes through the entries of a journal in order: counts, drops what is repeated, tells where the device
 * began anew.
 */
export function gathering(columns: Columns | null, sink: RowSink) {
  /** Where the channels of the blocks that follow stand in the rows. */
  let channelPlaces: readonly number[] = []
  const breakPlaces = new Set<number>()
  const remarks: { remark: Remark; sample: number }[] = []
  const troubles = { lost: 0, repeated: 0, outOfOrder: 0, garbled: 0, resets: 0, reopened: 0 }
  const watch = watchSequence()
  /** Lines that no sample has made clear so far. */
  let held: typeof remarks = []
  let factor = 1
  let place = 0
  let breakNext = false
  let samples = 0

  const takeBlock = (block: SampleBlock): void => {
    for (let index = 0; index < block.values.length; index++) {
      if (block.sequence) {
        const found = watch.see(block.sequence[index]!)
        if (found.kind === 'repeated') {
          troubles.repeated++
          continue
        }
        if (found.kind === 'reset') breakNext = true
        if (found.kind === 'late') troubles.outOfOrder++
        troubles.lost += found.kind === 'late' ? -1 : found.lost
        place = found.place
      } else place++
      if (breakNext && samples > 0) {
        breakPlaces.add(place)
        troubles.resets++
      }
      breakNext = false
      samples++
      sink.add({
        value: block.values[index]! * factor,
        arrivedS: block.arrivedS,
        stampS: block.stampS ? block.stampS[index]! : Number.NaN,
        place,
        block,
        index,
        channelPlaces,
      })
    }
  }
  return {
    breakPlaces,
    troubles,
    get samples() {
      return samples
    },
    take(entry: JournalEntry): void {
      if (entry.what === 'samples') {
        takeBlock(entry.block)
        held = []
      } else if (entry.what === 'columns') {
        factor = entry.unitAssumed ? 1 : unitFactor(entry.unit, columns?.unit ?? entry.unit)
        channelPlaces = entry.channels.map(channel => columns?.channels.findIndex(isSame(channel)) ?? -1)
      } else if (entry.what === 'remark' && entry.kind === 'held')
        held.push({ remark: entry, sample: samples })
      else if (entry.what === 'remark') {
        if (entry.kind === 'garbled') troubles.garbled += entry.count
        if (entry.kind === 'line-back') troubles.reopened++
        if (entry.kind === 'line-back' || entry.kind === 'device-reset') {
          breakNext = true
          watch.restart()
        }
        remarks.push({ remark: entry, sample: samples })
      }
    },
    /** All remarks, once all was taken. */
    remarks: () => [...remarks, ...held],
  }
}

/** Puts blocks and remarks of a journal in order. */
export function gather({ entries, samples: most }: JournalContents): Gathered {
  const told: Columns[] = []
  for (const entry of entries) if (entry.what === 'columns') told.push(entry)
  const columns = columnsOf(told)
  const rows = emptyRows(most, columns?.channels.length ?? 0)
  const sink = rowsSink(rows)
  const all = gathering(columns, sink)
  for (const entry of entries) all.take(entry)
  const { samples, troubles } = all
  const taken = mapRows(rows, array => array.subarray(0, samples))
  const ordered = troubles.outOfOrder > 0 ? inOrder(taken) : taken
  const breaks = breaksIn(ordered, all.breakPlaces)
  return { ...ordered, breaks, remarks: all.remarks(), columns, troubles }
}

/** Samples of ordered rows that are the first after a break. */
export function breaksIn({ count }: Rows, places: ReadonlySet<number>): number[] {
  const breaks: number[] = []
  if (places.size > 0) for (let i = 0; i < count.length; i++) if (places.has(count[i]!)) breaks.push(i)
  return breaks
}

/** Fills rows from `filled` on. */
export function rowsSink(rows: Rows): RowSink & { filled: number } {
  return {
    filled: 0,
    add({ value, arrivedS, stampS, place, block, index, channelPlaces }) {
      const at = this.filled++
      rows.values[at] = value
      rows.arrivalS[at] = arrivedS
      rows.stampS[at] = stampS
      rows.count[at] = place
      for (let c = 0; c < block.channels.length; c++) {
        const values = rows.channels[channelPlaces[c] ?? -1]
        if (values) values[at] = block.channels[c]![index]!
      }
    },
  }
}

/**
 * The first columns count; an assumed unit gives way to what the line showed later. Channels are all that
 * there were.
 */
export function columnsOf(all: readonly Columns[]): Columns | null {
  const [first] = all
  if (!first) return null
  const stamps = all.find(({ stamps }) => stamps !== null)?.stamps ?? null
  const told = first.unitAssumed
    ? (all.find(({ unitAssumed }) => !unitAssumed) ?? all.at(-1) ?? first)
    : first
  const channels = all.flatMap(columns => columns.channels)
  return { ...told, stamps, channels: channels.filter((one, i) => channels.findIndex(isSame(one)) === i) }
}

type JournalChannel = Columns['channels'][number]
const isSame = (one: JournalChannel) => (other: JournalChannel) =>
  one.name === other.name && one.kind === other.kind && one.unit === other.unit

export type Rows = Pick<Gathered, 'values' | 'arrivalS' | 'stampS' | 'count' | 'channels'>

export const emptyRows = (samples: number, channels: number): Rows => ({
  values: new Float64Array(samples),
  arrivalS: new Float64Array(samples),
  stampS: new Float64Array(samples),
  count: new Float64Array(samples),
  channels: Array.from({ length: channels }, () => new Float64Array(samples).fill(Number.NaN)),
})

export const mapRows = (rows: Rows, change: (array: Float64Array) => Float64Array): Rows => ({
  values: change(rows.values),
  arrivalS: change(rows.arrivalS),
  stampS: change(rows.stampS),
  count: change(rows.count),
  channels: rows.channels.map(change),
})

/**
 * Sorts by the device's count. A sample put in its place arrived after its neighbours: its arrival is drawn
 * in between theirs.
 */
export function inOrder(rows: Rows): Rows {
  const order = Uint32Array.from(rows.count, (_, i) => i).sort((a, b) => rows.count[a]! - rows.count[b]!)
  const sorted = mapRows(rows, array => Float64Array.from(order, i => array[i]!))
  const { arrivalS } = sorted
  for (let i = arrivalS.length - 2; i >= 0; i--) {
    if (arrivalS[i]! > arrivalS[i + 1]!) arrivalS[i] = arrivalS[i + 1]!
  }
  return sorted
}

/**
 * A unit that changes on the way is turned into the first; counts and forces cannot be turned into one
 * another.
 */
const unitFactor = (unit: LogForceUnit, first: LogForceUnit): number =>
  unit === first || unit === 'counts' || first === 'counts' ? 1 : N_PER[unit] / N_PER[first]

import type { SampleBlock } from '../journal/frames.ts'

/** Collects the samples of one read. */
export interface BlockBuilder {
  add(value: number, stampS: number | null, channels?: ArrayLike<number>): void
  /** A sample of our line protocol. */
  addNumbered(value: number, stampS: number, sequence: number, status: number): void
  /** The block so far, or `null`; and begins the next. */
  take(arrivedS: number): SampleBlock | null
}

const FIRST_ROOM = 256
const NO_CHANNELS: ArrayLike<number> = []

/** One column that grows; made anew only when it is full. */
function growColumn() {
  let values = new Float64Array(FIRST_ROOM)
  return {
    set(at: number, value: number): void {
      if (at >= values.length) {
        const wider = new Float64Array(2 * at).fill(Number.NaN)
        wider.set(values)
        values = wider
      }
      values[at] = value
    },
    taken: (count: number): Float64Array => values.slice(0, count),
  }
}

export function growBlock(): BlockBuilder {
  const values = growColumn()
  const stamps = growColumn()
  const sequences = growColumn()
  const statuses = growColumn()
  const channels: ReturnType<typeof growColumn>[] = []
  let count = 0
  let numbered = 0
  let channelCount = 0
  let stamped = false

  const add = (value: number, stampS: number | null, cells: ArrayLike<number> = NO_CHANNELS): void => {
    values.set(count, value)
    stamps.set(count, stampS ?? Number.NaN)
    if (stampS !== null) stamped = true
    for (let c = channels.length; c < cells.length; c++) channels.push(growColumn())
    for (let c = 0; c < channels.length; c++) channels[c]!.set(count, cells[c] ?? Number.NaN)
    if (cells.length > channelCount) channelCount = cells.length
    count++
  }
  return {
    add,
    addNumbered(value, stampS, sequence, status) {
      sequences.set(numbered, sequence)
      statuses.set(numbered, status)
      numbered++
      add(value, stampS)
    },
    take(arrivedS) {
      if (count === 0) return null
      // Numbers that came with some lines only cannot be laid beside the others.
      const whole = numbered === count
      const block: SampleBlock = {
        arrivedS,
        values: values.taken(count),
        stampS: stamped ? stamps.taken(count) : null,
        sequence: whole ? Uint32Array.from(sequences.taken(count)) : null,
        status: whole ? Uint8Array.from(statuses.taken(count)) : null,
        channels: channels.slice(0, channelCount).map(column => column.taken(count)),
      }
      count = numbered = channelCount = 0
      stamped = false
      return block
    },
  }
}

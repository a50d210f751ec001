import type { SampleBlock } from '../journal/frames.ts'

/** Collects the samples of one read. */
export interface BlockBuilder {
  add(value: number, stampS: number | null, sequence?: number, status?: number): void
  /** The block so far, or `null`; and begins the next. */
  take(arrivedS: number): SampleBlock | null
}

export function growBlock(): BlockBuilder {
  let values: number[] = []
  let stamps: number[] = []
  let sequences: number[] = []
  let statuses: number[] = []
  let stamped = false
  let numbered = false
  return {
    add(value, stampS, sequence, status = 0) {
      values.push(value)
      stamps.push(stampS ?? Number.NaN)
      if (stampS !== null) stamped = true
      if (sequence !== undefined) {
        numbered = true
        sequences.push(sequence)
        statuses.push(status)
      }
    },
    take(arrivedS) {
      if (values.length === 0) return null
      // Numbers that came with some lines only cannot be laid beside the others.
      const whole = numbered && sequences.length === values.length
      const block: SampleBlock = {
        arrivedS,
        values: Float64Array.from(values),
        stampS: stamped ? Float64Array.from(stamps) : null,
        sequence: whole ? Uint32Array.from(sequences) : null,
        status: whole ? Uint8Array.from(statuses) : null,
        channels: [],
      }
      values = []
      stamps = []
      sequences = []
      statuses = []
      stamped = false
      numbered = false
      return block
    },
  }
}

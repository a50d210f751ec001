import type { LogForceUnit } from './units/force.ts'

/**
 * The samples of one log, or of the logs that make one specimen, as they were received: never changed afterwards.
 *
 * `timeS` and `forceN` have equal length and are finite. Time rises strictly within a segment (equal stamps are
 * spread over the step that they share) and never falls over the whole: each segment is set after the one before,
 * and what was added is kept in its `shiftS`. Tension is positive. Where `forceUnit` is `counts` (raw
 * counts) or `null` (a unit that nobody told), `forceN` holds the log's numbers as they are until a calibration is
 * applied or a unit is given.
 */
export interface Recording {
  /** File name without its folder. For several logs of a specimen, the first one's. */
  readonly name: string
  /** SHA-256 of the log's bytes, lower-case hex; `''` until the caller, who has the bytes, sets it. */
  readonly sha256: string
  readonly timeS: Float64Array
  readonly forceN: Float64Array
  /** Unit of force in the log; readings are shown in it. `null`: the log does not tell it, and its numbers stand as they are. */
  readonly forceUnit: LogForceUnit | null
  readonly timeFrom: 'column' | 'clock' | 'rate'
  /**
   * Whether the log's numbers were turned, so that tension is positive, and whether a person said their sign. Left out
   * where it is not known, as of a recording that an older version kept.
   */
  readonly tension?: { readonly turned: boolean; readonly told: boolean }
  /** In order, without overlap, covering all samples. One for an ordinary log. */
  readonly segments: readonly Segment[]
  /** The log's other numeric columns. */
  readonly channels: readonly Channel[]
  /** Lines or cells of text that the log carried beside its samples. */
  readonly notes: readonly Note[]
  /** What was taken for granted because the log does not say it: each becomes a warning. */
  readonly assumptions: readonly Assumption[]
  /** One line for people: what was understood of the log. */
  readonly understood: string
}

/** How many logs the samples come from: a reset of the device begins a segment, not a log. */
export const logsIn = (segments: readonly Pick<Segment, 'began'>[]): number =>
  segments.filter(({ began }) => began !== 'reset').length

/** What a channel is, without its values. */
export type ChannelHead = Omit<Channel, 'values'>

/** A recording besides its samples. */
export interface RecordingHead extends Omit<Recording, 'timeS' | 'forceN' | 'channels'> {
  readonly channels: readonly ChannelHead[]
}

/**
 * A recording that is too long to be held in memory. What it holds besides samples is known once all blocks were taken.
 */
export interface RecordingInBlocks {
  readonly name: string
  readonly forceUnit: Recording['forceUnit']
  /** Those whose values the blocks hold, in their order. */
  readonly channels: readonly ChannelHead[]
  /** Its samples in order, in blocks of one size, the last one shorter. May be asked for again. */
  blocks(): AsyncGenerator<BlockOfSamples, RestOfBlocks>
}

/** Samples that follow one another. Arrays have one value a sample; they are the taker's own. */
export interface BlockOfSamples {
  readonly timeS: Float64Array
  readonly forceN: Float64Array
  readonly channels: readonly Float64Array[]
}

export interface RestOfBlocks
  extends Pick<Recording, 'timeFrom' | 'tension' | 'segments' | 'notes' | 'assumptions' | 'understood'> {
  /** Channels that follow from the times, made for a run of samples that begins at the sample `from`. */
  readonly lateChannels: readonly (ChannelHead & {
    valuesAt(timeS: Float64Array, from: number): Float64Array
  })[]
}

/** A run of samples with one time base: one file, or what lies between two resets of the device. */
export interface Segment {
  /** First sample, and one past the last. */
  readonly from: number
  readonly to: number
  /** What began it. After `reset` and `file` the time that passed before it is unknown. */
  readonly began: 'start' | 'reset' | 'file'
  readonly name: string
  readonly sha256: string
  /** Seconds added to the log's own times; own time = `timeS` − `shiftS`. */
  readonly shiftS: number
}

export type ChannelKind = 'extension' | 'travel' | 'temperature' | 'set-point' | 'other'

export interface Channel {
  readonly name: string
  readonly kind: ChannelKind
  /** As the log has it; lengths are converted to `mm`. `''` where unknown. */
  readonly unit: string
  /** One value a sample; NaN where the cell was empty. */
  readonly values: Float64Array
}

export interface Note {
  /** Line of the file, from 1. */
  readonly line: number
  /** The sample that follows it (may be one past the last). */
  readonly sample: number
  readonly text: string
}

export interface Assumption {
  readonly code:
    | 'unit-assumed'
    | 'unit-not-told'
    | 'rate-assumed'
    | 'time-unit-assumed'
    | 'time-doubtful'
    | 'decimal-assumed'
    | 'tension-assumed'
    | 'time-spread'
    | 'rows-skipped'
    | 'lines-not-read'
    | 'end-mark'
    | 'stated-maximum-differs'
    | 'layout-changes'
    | 'column-assumed'
    | 'notes-left-out'
    | 'contradiction'
  readonly text: string
  /** Of lines that hold numbers and were not read: how many there are, and the first few. */
  readonly lines?: { readonly count: number; readonly first: readonly QuotedLine[] }
}

/** A line of a log, from 1, as far as it is shown. */
export interface QuotedLine {
  readonly line: number
  readonly text: string
}

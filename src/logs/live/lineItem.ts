import type { Channel } from '../../core/recording.ts'
import type { LogForceUnit } from '../../core/units/force.ts'

/** A further column of numbers; lengths are in mm. */
export type LineChannel = Omit<Channel, 'values'>

/** A line that holds a sample. */
export interface LineSample {
  /** Time by the device, as it gives it: it may wrap round or begin anew. `null` where it gives none. */
  readonly timeS: number | null
  /** In `unit`, with the sign that the device gives. */
  readonly force: number
  /** `null` where neither the line, a header nor the options say. */
  readonly unit: LogForceUnit | null
  /** The further columns: the same array for as long as they stay what they are. */
  readonly channels: readonly LineChannel[]
  /** One for each channel; NaN where its cell is empty. */
  readonly values: ArrayLike<number>
}

/** What a line from a rig turned out to be. */
export type LineItem =
  | ({
      readonly kind: 'sample'
      /** Line of the stream, from 1. */
      readonly line: number
      /** When the line's last bytes arrived. */
      readonly arrivedS: number
    } & LineSample)
  | { readonly kind: 'note'; readonly line: number; readonly text: string; readonly arrivedS: number }

import type { LogForceUnit } from '../../core/units/force.ts'

/** What a line from a rig turned out to be. */
export type LineItem =
  | {
      readonly kind: 'sample'
      /** Line of the stream, from 1. */
      readonly line: number
      /** Time by the device, as it gives it: it may wrap round or begin anew. `null` where it gives none. */
      readonly timeS: number | null
      /** In `unit`, with the sign that the device gives. */
      readonly force: number
      /** `null` where neither the line, a header nor the options say. */
      readonly unit: LogForceUnit | null
      /** When the line's last bytes arrived. */
      readonly arrivedS: number
    }
  | { readonly kind: 'note'; readonly line: number; readonly text: string; readonly arrivedS: number }

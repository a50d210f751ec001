import type { LogForceUnit } from '../core/units/force.ts'
import type { Decimal } from './cells/number.ts'

/** What a person may say about a log that the log does not say, or says wrongly. Nothing is needed as a rule. */
export interface LogOptions {
  /** Column of time: its name in the header, or its number from 1. */
  readonly time?: string
  /** Column of force: its name in the header, or its number from 1. */
  readonly force?: string
  readonly unit?: LogForceUnit
  /** Samples a second, for a log without times of its own; counts for more than times that are only guessed. */
  readonly rateHz?: number
  /** Sign that the log gives to a pull. */
  readonly tension?: 'positive' | 'negative'
  readonly decimal?: Decimal
  /** A label that the Encoding Standard knows: `utf-8`, `utf-16le`, `windows-1252`, `shift_jis`, `gbk` … */
  readonly encoding?: string
}

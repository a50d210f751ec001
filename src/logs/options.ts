import type { LogForceUnit } from '../core/units/force.ts'
import type { Decimal } from './cells/number.ts'

/** A unit of time as an option has it. */
export const TIME_UNITS = { s: 1, ms: 1e-3, us: 1e-6, min: 60, h: 3600 } as const
export type TimeUnitWord = keyof typeof TIME_UNITS

/**
 * What a person may say about a log that the log does not say, or says wrongly. Nothing is needed as a rule.
 */
export interface LogOptions {
  /** Column of time: its name in the header, or its number from 1. */
  readonly time?: string
  /** Column of force: its name in the header, or its number from 1. */
  readonly force?: string
  readonly unit?: LogForceUnit
  /** Unit of the times, where the log does not say it or says it wrongly. */
  readonly timeUnit?: TimeUnitWord
  /**
   * Samples a second, for a log without times; times that are called so, have a unit or are a clock stand
   * before it.
   */
  readonly rateHz?: number
  /** Sign that the log gives to a pull. */
  readonly tension?: 'positive' | 'negative'
  readonly decimal?: Decimal
  /** A label that the Encoding Standard knows: `utf-8`, `utf-16le`, `windows-1252`, `shift_jis`, `gbk` … */
  readonly encoding?: string
}

/** The options that settle a problem, in the order in which its cure names them. */
export const settledBy = (...fields: readonly (keyof LogOptions)[]): readonly string[] => fields

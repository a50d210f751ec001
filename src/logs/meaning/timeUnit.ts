import type { Assumption } from '../../core/recording.ts'
import { TIME_UNITS, type TimeUnitWord } from '../options.ts'
import { secondsIn } from '../words/units.ts'
import { type ColumnView, unitWord } from './columnView.ts'
import type { StatedTimeUnit } from './preamble.ts'
import { middleStep } from './timeBase.ts'

export interface TimeUnit {
  readonly secondsInUnit: number
  readonly shown: string
  readonly assumption: Assumption | null
}

const SHOWN: Readonly<Record<number, string>> = {
  1: 's',
  0.001: 'ms',
  0.000001: 'µs',
  1e-9: 'ns',
  60: 'min',
  3600: 'h',
  86400: 'days',
}

/** A hundred thousand readings a second: faster than any bridge converter. */
const FASTEST_STEP_S = 1e-5

/**
 * Unit of a column of time: from its cells, its header or, where nothing says, from its steps. Whole numbers
 * that step by 2 to 1999 are milliseconds (500 to 0.5 samples a second), by more microseconds; steps of 1 and
 * numbers with a fraction are seconds, but for fractions that step by more than 5, which no bench log waits:
 * milliseconds.
 */
export function timeUnit(
  time: ColumnView,
  rows: number,
  stated: StatedTimeUnit | null = null,
  given?: TimeUnitWord,
): TimeUnit {
  if (given !== undefined)
    return {
      secondsInUnit: TIME_UNITS[given],
      shown: `${SHOWN[TIME_UNITS[given]]}, as told`,
      assumption: null,
    }
  const cell = unitWord(time.column)
  const inCell = cell === undefined ? null : secondsIn(cell)
  if (inCell !== null)
    return { secondsInUnit: inCell, shown: `${SHOWN[inCell]}, beside each value`, assumption: null }
  const { unit } = time.meaning
  if (unit?.of === 'time')
    return { secondsInUnit: unit.secondsIn, shown: SHOWN[unit.secondsIn] ?? '', assumption: null }
  if (stated)
    return {
      secondsInUnit: stated.secondsInUnit,
      shown: `${SHOWN[stated.secondsInUnit]}, from line ${stated.line}`,
      assumption: null,
    }
  const step = middleStep(time.column.values.subarray(0, rows))
  const { whole } = time.run()
  const since1970 = sinceEpoch(time.column.values[0]!) ?? spreadsheetDays(time.column.values[0]!, step)
  const guess = since1970 ?? (whole ? (step < 2 ? 1 : step < 2000 ? 1e-3 : 1e-6) : step > 5 ? 1e-3 : 1)
  const shown = SHOWN[guess] ?? 's'
  // Numbers with a fraction are seconds beyond much doubt, unless no bench log steps so fast: told, but not
  // warned of.
  if (guess === 1 && !whole && step >= FASTEST_STEP_S)
    return { secondsInUnit: 1, shown: 's, assumed from its steps', assumption: null }
  return {
    secondsInUnit: guess,
    shown: `${shown}, assumed from its ${since1970 ? 'size' : 'steps'}`,
    assumption: {
      code: 'time-unit-assumed',
      text: `The log does not say the unit of its times; steps of ${Number(step.toPrecision(4))} are taken as ${shown}. A header such as time_ms or time_s settles it, or --time-unit.`,
    },
  }
}

/** Seconds since 1970 of the years 2001 to 2100. */
const EPOCH_FROM_S = 0.98e9
const EPOCH_TO_S = 4.11e9

/**
 * Numbers that are a date of our days in micro- or nanoseconds since 1970, and no time since any start:
 * `null` otherwise.
 */
const sinceEpoch = (value: number): number | null =>
  [1e-6, 1e-9].find(unit => value * unit > EPOCH_FROM_S && value * unit < EPOCH_TO_S) ?? null

/**
 * Days as spreadsheets count them, of the years 2000 to 2099, at steps that would be 50,000 samples a second
 * or more.
 */
const spreadsheetDays = (value: number, step: number): number | null =>
  value > 36_525 && value < 73_051 && step < 2e-5 ? 86_400 : null

/** Whether a zero of time is a date of our days: numbers that count from one are the time beyond doubt. */
export const isSinceEpoch = (zeroS: number): boolean => zeroS > EPOCH_FROM_S && zeroS < EPOCH_TO_S

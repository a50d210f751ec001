import { fine, type Outcome } from '../../core/problem.ts'
import type { Assumption } from '../../core/recording.ts'
import { type Extent, extentIn, extentOf } from '../../core/signal/extent.ts'
import type { TimeUnitWord } from '../options.ts'
import type { ColumnView } from './columnView.ts'
import type { StatedTimeUnit } from './preamble.ts'
import { makeTimeBase, type TimeBase } from './timeBase.ts'
import { timeUnit } from './timeUnit.ts'

/** Times beyond this count from some far zero (an epoch); the record then starts at 0. */
const FAR_S = 1e8

interface Timed {
  readonly base: TimeBase
  readonly timeS: Float64Array
  readonly shown: string
  readonly assumption: Assumption | null
  /** Subtracted from all times, for a far zero. */
  readonly zeroS: number
}

interface TimeAsked {
  readonly time: ColumnView | null
  readonly date: ColumnView | null
  readonly rateHz: number | undefined
  readonly statedUnit: StatedTimeUnit | null
  readonly givenUnit: TimeUnitWord | undefined
  readonly rows: number
  readonly name: string
  readonly restarts: readonly number[]
  readonly lineOf: (sample: number) => number
  /** Of the column of times as it was read, where it is told. */
  readonly extent: Extent | null
}

/** The times of the samples, in s, from the column or the rate. */
export function timesOf({
  time,
  date,
  rateHz,
  statedUnit,
  givenUnit,
  rows,
  name,
  restarts,
  lineOf,
  extent,
}: TimeAsked): Outcome<Timed> {
  if (time === null) return fine(timesFromRate(rateHz ?? 1, rows))
  const timeS = time.column.values.subarray(0, rows)
  const stamps = time.column.form !== 'number'
  const unit = stamps ? null : timeUnit(time, rows, statedUnit, givenUnit)
  const perSecond = unit ? Math.round(1 / unit.secondsInUnit) : 1
  const zeroS = stamps
    ? (date?.column.values[0] ?? 0) + timeS[0]!
    : farZero(timeS[0]!, unit?.secondsInUnit ?? 1)
  if (date) {
    for (let i = 0; i < rows; i++) timeS[i] = timeS[i]! + date.column.values[i]! - zeroS
  } else if (time.column.form === 'date-time') {
    for (let i = 0; i < rows; i++) timeS[i] = timeS[i]! - zeroS
  } else if (unit) {
    const zero = zeroS / unit.secondsInUnit
    if (unit.secondsInUnit > 1)
      for (let i = 0; i < rows; i++) timeS[i] = (timeS[i]! - zero) * unit.secondsInUnit
    else if (perSecond > 1 || zero !== 0)
      for (let i = 0; i < rows; i++) timeS[i] = (timeS[i]! - zero) / perSecond
  }
  const isAsRead = !date && unit?.secondsInUnit === 1 && zeroS === 0
  const clock = time.column.form === 'clock' && date === null
  const source = { name, secondsInUnit: unit?.secondsInUnit ?? 1, clock, restarts, lineOf }
  const base = makeTimeBase(timeS, source, (isAsRead && extent) || undefined)
  if (!base.ok) return base
  // A clock is wound back to 0 only now: midnight must be seen as midnight.
  if (clock) for (let i = 0; i < rows; i++) timeS[i] = timeS[i]! - zeroS
  const samples = rows - base.value.leftOut
  const stands = clock ? { ...base.value, extent: extentIn(timeS, 0, samples) } : base.value
  const shown = `from ${time.shown}${date ? ` with ${date.shown}` : ''}${unit ? ` (${unit.shown})` : ', a clock'}`
  return fine({ base: stands, timeS, shown, assumption: unit?.assumption ?? null, zeroS })
}

const farZero = (first: number, secondsInUnit: number): number => {
  const firstS = first * secondsInUnit
  return Math.abs(firstS) > FAR_S ? firstS : 0
}

function timesFromRate(rateHz: number, rows: number): Timed {
  const timeS = new Float64Array(rows)
  for (let i = 0; i < rows; i++) timeS[i] = i / rateHz
  const segments = [{ from: 0, to: rows, began: 'start', shiftS: 0 }] as const
  const extent = extentOf(timeS)
  const base = { segments, assumptions: [], stepS: 1 / rateHz, wraps: 0, leftOut: 0, extent }
  return { base, timeS, shown: `from the rate of ${rateHz} Hz`, assumption: null, zeroS: 0 }
}

import type { Assumption } from '../../core/recording.ts'
import type { LogOptions } from '../options.ts'
import type { ColumnView } from './columnView.ts'

/** A pull is over before so many readings so far apart: half a minute between them is no bench log. */
const SLOW_STEP_S = 20
const FEWEST_SLOW = 30
/** A million readings a second: no bridge converter gives them. */
const FAST_STEP_S = 1e-6

/** Where the unit of time that the log tells cannot be right by its steps. */
export function doubtfulTime(
  time: ColumnView,
  stepS: number,
  samples: number,
  options: LogOptions,
): Assumption | null {
  const isTold = time.meaning.unit?.of === 'time'
  if (!isTold || options.timeUnit !== undefined || time.column.form !== 'number') return null
  const isSlow = stepS >= SLOW_STEP_S && samples >= FEWEST_SLOW
  if (!isSlow && !(stepS > 0 && stepS < FAST_STEP_S)) return null
  const step = Number(stepS.toPrecision(3))
  return {
    code: 'time-doubtful',
    text: `By its header ${time.shown} goes on by ${step} s from reading to reading, ${Number((stepS * samples).toPrecision(2))} s in all: hardly the time of a pull. If it is in another unit, say --time-unit${isSlow ? ' ms' : ' s'}.`,
  }
}

import type { Assumption } from '../../core/recording.ts'
import type { ColumnView } from './columnView.ts'
import { middleStep } from './timeBase.ts'

/** How many of one unit of time another is. */
const RATIOS = [1e3, 1e6, 60, 3600]
const SAME = 0.05
/** So many steps on either side tell how it goes there. */
const FEWEST = 8
/** No record waits a day for its next reading. */
const DAY_S = 86_400
/** An ordinary record has no step so long. */
const LEAP = 30

/**
 * Where the times of a log, in s and rising, go on in another unit from some row: they leap to so many times
 * what they were, and step by as many times what they did; or in the same unit by a clock that was set
 * meanwhile, days ahead.
 */
export function timeScaleChange(
  time: ColumnView,
  timeS: Float64Array,
  greatestStep: number,
  lineOf: (sample: number) => number,
): Assumption | null {
  const count = timeS.length
  if (count < 2 * FEWEST || !(greatestStep > LEAP * middleStep(timeS.subarray(0, 2 * FEWEST)))) return null
  let at = 1
  while (at < count && timeS[at]! - timeS[at - 1]! < greatestStep) at++
  if (at < FEWEST || count - at < FEWEST) return null
  const ratio = middleStep(timeS.subarray(at)) / middleStep(timeS.subarray(0, at))
  const leap = timeS[at]! / (timeS[at - 1]! + middleStep(timeS.subarray(0, at)))
  const unit = RATIOS.find(r => Math.abs(ratio / r - 1) < SAME && Math.abs(leap / r - 1) < SAME)
  const line = lineOf(at)
  if (unit === undefined)
    return greatestStep < DAY_S
      ? null
      : {
          code: 'time-doubtful',
          text: `From line ${line} on ${time.shown} goes on ${Number(greatestStep.toPrecision(3))} s later: its clock seems to have been set there. Split the log at that line.`,
        }
  return {
    code: 'time-doubtful',
    text: `From line ${line} on ${time.shown} goes on by ${unit} times what it did before: its unit seems to change there. Split the log at that line, or say --time-unit of each part.`,
  }
}

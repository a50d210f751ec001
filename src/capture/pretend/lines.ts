import { fromNewton } from '../../core/units/force.ts'
import { makePull, type PullOptions } from './makePull.ts'

export interface TimedLine {
  /** When the line comes, in seconds from the first. */
  readonly atS: number
  /** What a small board would send: milliseconds since start-up and the force, without line end. */
  readonly line: string
}

/** A pretend pull as the lines that a rig would send, first the heading. Every log follows the one before. */
export function* pretendLines(options: PullOptions): Generator<TimedLine> {
  const { recording } = makePull(options)
  if (recording.forceUnit === 'counts' || recording.forceUnit === null)
    throw new RangeError('the pretend rig sends forces, not counts')
  const unit = recording.forceUnit
  yield { atS: 0, line: `time_ms,force_${unit}` }
  for (let i = 0; i < recording.timeS.length; i++) {
    const atS = recording.timeS[i]!
    yield { atS, line: `${(atS * 1000).toFixed(1)},${fromNewton(recording.forceN[i]!, unit).toFixed(4)}` }
  }
}

/** What Rig asks for now. */
export type RigNext = 'describe' | 'masses' | 'calibrate' | 'off' | 'check' | 'pull'

export interface RigState {
  readonly isDescribed: boolean
  readonly masses: number
  readonly isCalibrated: boolean
  readonly isCheckedToday: boolean
  /** What the last check said under the calibration in force. */
  readonly lastVerdict: 'within' | 'out' | null
}

/** The first thing that is missing, in the order of the work. */
export function rigNext({
  isDescribed,
  masses,
  isCalibrated,
  isCheckedToday,
  lastVerdict,
}: RigState): RigNext {
  if (!isDescribed) return 'describe'
  // Two loads are the least that shows a line; one is enough to check it.
  if (!isCalibrated) return masses < 2 ? 'masses' : 'calibrate'
  if (isCheckedToday) return lastVerdict === 'out' ? 'off' : 'pull'
  return masses < 1 ? 'masses' : 'check'
}

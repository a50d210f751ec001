/** Whether a reading has to find an event, may find it, or is not asked. */
export type EventWeight = 'must' | 'optional' | 'ignore'

/**
 * How much is asked of a break that tears in a time of its own, or after which little is recorded. One that takes as
 * long as the eye takes for softening may be called so; one cut in the fall needs a fall that shows.
 */
export function tearWeight(fall: {
  readonly endTells: boolean
  /** Readings wholly after the fall, and in it. */
  readonly readingsAfter: number
  readonly fallPeriods: number
  readonly cutInFall: boolean
  /** Loss of force that was recorded, over the force. */
  readonly share: number
  readonly clear: boolean
}): EventWeight {
  if (!fall.clear) return 'ignore'
  if (fall.cutInFall) {
    if (!fall.endTells) return 'ignore'
    if (fall.share >= 0.25 && fall.fallPeriods >= 3) return 'must'
    return 'optional'
  }
  if (fall.fallPeriods > LONGEST_FALL) return 'optional'
  return fall.readingsAfter >= 2 ? 'must' : fall.readingsAfter >= 1 ? 'optional' : 'ignore'
}

/** Readings in a fall from which on it may be called softening. */
const LONGEST_FALL = 12

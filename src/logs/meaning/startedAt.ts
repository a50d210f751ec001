import type { Recording } from '../../core/recording.ts'

/** Seconds of a stamp beyond which it carries a date (1973), not a time of day alone. */
const DATED_FROM_S = 1e8

/**
 * When a log began, ISO 8601, from stamps of date and time; `null` where its times carry no date. A zone that
 * the stamps name is applied; where they name none, the clock's own digits stand as they are, as if they were
 * UTC.
 */
export function startedAtOf({ timeFrom, timeS, segments }: Recording): string | null {
  const [first] = segments
  if (timeFrom !== 'clock' || first === undefined || timeS.length === 0) return null
  const ownS = timeS[first.from]! - first.shiftS
  if (!(ownS > DATED_FROM_S)) return null
  const started = new Date(1000 * ownS)
  return Number.isNaN(started.getTime()) ? null : started.toISOString()
}

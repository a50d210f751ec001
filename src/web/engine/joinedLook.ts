import type { Reading } from '../../core/reading/document.ts'
import type { JoinedCurve } from '../../core/reading/joinedCurve.ts'
import type { Stretch } from '../../core/reading/states.ts'
import { type AlongCurve, alongAt, alongEnds, alongSelvedge, alongSpan } from './alongCurve.ts'
import type { JoinedLook, TimeSpan } from './types.ts'

/** A joined curve with its selvedge, joins and events on its own axis; `null` where there is none to draw. */
export function joinedLook(
  joined: JoinedCurve,
  along: AlongCurve,
  {
    reading,
    timeS,
    selvedge,
    part,
  }: {
    reading: Reading
    timeS: Float64Array
    selvedge: readonly Stretch[]
    part: TimeSpan | null
  },
): JoinedLook | null {
  const ends = alongEnds(along)
  if (!ends) return null
  const { atS } = reading.results.peakForce
  return {
    against: joined.against,
    unit: joined.unit,
    ...ends,
    joins: joined.joins.map(({ point, pull }) => ({ at: joined.along[point]!, pull })),
    selvedge: alongSelvedge(
      joined,
      timeS,
      selvedge,
      reading.events.flatMap(({ kind, atS }) => (kind === 'regrip' ? [atS] : [])),
    ),
    eventsAt: reading.events.map(event => alongAt(joined, timeS, event.atS)),
    peakAt: atS === null ? null : alongAt(joined, timeS, atS),
    part: part && alongSpan(joined, timeS, part),
  }
}

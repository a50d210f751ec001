import type { Adjustment } from './adjustmentDocument.ts'
import type { Reading, ReadingEvent, Zero } from './document.ts'

/** What a person said stands as that person's word: `as A. says`. */
export const asSaid = (who: string): string => `as ${who.trim() === '' ? 'a person' : who} says`

/** The events and zeros that rest on what a person said, each with who said it; the others as they were. */
export function withSayers(
  { events, zeros, recording: { rateHz } }: Pick<Reading, 'events' | 'zeros' | 'recording'>,
  adjustments: readonly Adjustment[],
): Pick<Reading, 'events' | 'zeros'> {
  // As far as a label reaches for its drop.
  const reach = Math.max(0.3, 4 / rateHz)
  const eventSayers = new Map<ReadingEvent, string>()
  const zeroSayers = new Map<Zero, string>()
  for (const one of adjustments) {
    if (one.kind === 'relabel' && one.as !== 'none') {
      const alike = events.filter(({ kind, atS }) => kind === one.as && Math.abs(atS - one.atS) <= reach)
      const [nearest] = alike.toSorted((a, b) => Math.abs(a.atS - one.atS) - Math.abs(b.atS - one.atS))
      if (nearest) eventSayers.set(nearest, one.who)
    }
    if (one.kind === 'zero-here')
      for (const zero of zeros)
        if (zero.basis === 'rest' && zero.fromS <= one.toS && zero.toS >= one.fromS)
          zeroSayers.set(zero, one.who)
  }
  const said = <T extends object>(sayers: ReadonlyMap<T, string>, one: T): T => {
    const saidBy = sayers.get(one)
    return saidBy === undefined ? one : { ...one, saidBy }
  }
  return {
    events: events.map(event => said(eventSayers, event)),
    zeros: zeros.map(zero => said(zeroSayers, zero)),
  }
}

import type { ShownUnit } from '../units/force.ts'
import { fromNewton } from '../units/force.ts'
import { decimalsInWords, plainNumber } from '../units/showForce.ts'
import type { Reading, ReadingEvent } from './document.ts'
import { asSaid } from './saidBy.ts'

/** What the shown unit and the specimen add to an event. */
export interface EventLabelOptions {
  readonly unit: ShownUnit
  /** Decimals of the force. */
  readonly decimals: number
  /** How many equal elements the specimen had, where told. */
  readonly elements: number | null
}

/** Decimals at which the difference of two readings says something, for the words on a curve. */
export const dropDecimals = (
  { recording: { noiseN, quantumN }, results }: Pick<Reading, 'recording' | 'results'>,
  unit: ShownUnit,
): number =>
  decimalsInWords(
    fromNewton(Math.max(noiseN, quantumN) * 2, unit),
    fromNewton(results.peakForce.valueN ?? 0, unit),
  )

/** A few plain words for the tick of an event: “a part let go, −7.4 N, 1 of 10”. */
export function eventLabel(event: ReadingEvent, options: EventLabelOptions): string {
  const words = whatHappened(event, options)
  return event.saidBy === undefined ? words : `${words}, ${asSaid(event.saidBy)}`
}

function whatHappened(event: ReadingEvent, { unit, decimals, elements }: EventLabelOptions): string {
  const drop = `${plainNumber(-Math.abs(fromNewton(event.dropN, unit)), decimals)} ${unit}`
  switch (event.kind) {
    case 'partial-break':
      return `a part let go, ${drop}${elementsLabel(event, elements)}`
    case 'break':
      return `broke, ${drop}`
    case 'slip':
      return `slipped, ${drop}`
    case 'unload':
      return 'backed off'
    case 'regrip':
      return 're-gripped'
    case 'rezero':
      return 'zero set again'
  }
}

function elementsLabel({ elements: gone }: ReadingEvent, all: number | null): string {
  if (gone === null) return ''
  const range = gone.low === gone.high ? `${gone.estimate}` : `${gone.low} to ${gone.high}`
  return all === null ? `, ${range}` : `, ${range} of ${all}`
}

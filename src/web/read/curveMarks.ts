import type { Reading, ReadingEvent } from '../../core/reading/document.ts'
import { elementsOf } from '../../core/reading/elementsOf.ts'
import { dropDecimals, eventLabel } from '../../core/reading/eventLabel.ts'
import { peakWords, shownLowN } from '../../core/reading/peakWords.ts'
import { fromNewton, type ShownUnit } from '../../core/units/force.ts'
import { decimalsInWords, plainNumber } from '../../core/units/showForce.ts'
import type { JoinedLook } from '../engine/types.ts'
import type { CurveLevel, CurvePeak, CurveSeam, CurveTick } from '../parts/curve/types.ts'
import { texts } from '../texts/index.ts'

/** Which axis a curve is drawn on: the record's time, or that of the joined curve. */
export type Axis = { readonly kind: 'time' } | { readonly kind: 'joined'; readonly joined: JoinedLook }

export const eventId = ({ kind, atS }: ReadingEvent): string => `${kind} ${atS}`

/** Breaks are named before slips, and these before handling; among equals the greater drop. */
const RANKS = { break: 4, slip: 3, 'partial-break': 2, rezero: 1, regrip: 1, unload: 0 } as const

export function ticksOf(
  reading: Reading,
  unit: ShownUnit,
  axis: Axis,
  mark: (text: string) => string,
): CurveTick[] {
  const options = { unit, decimals: dropDecimals(reading, unit), elements: elementsOf(reading) }
  return reading.events.flatMap((event, i) => {
    const at = axis.kind === 'time' ? event.atS : (axis.joined.eventsAt[i] ?? null)
    if (at === null) return []
    const label = mark(eventLabel(event, options))
    return {
      id: eventId(event),
      at,
      forceN: Math.max(event.beforeN, 0),
      label,
      title: mark(texts.read.eventAt(label, event.atS)),
      weight: RANKS[event.kind] * 1e9 + Math.min(Math.abs(event.dropN), 1e8),
      number: i + 1,
    }
  })
}

export function peakOf(
  { results: { peakForce } }: Reading,
  unit: ShownUnit,
  axis: Axis,
  mark: (text: string) => string,
): CurvePeak | null {
  const { valueN, highN } = peakForce
  const at = axis.kind === 'time' ? peakForce.atS : axis.joined.peakAt
  if (at === null || valueN === null) return null
  return { at, forceN: valueN, lowN: shownLowN(peakForce), highN, label: mark(peakWords(peakForce, unit)) }
}

/** Share of the peak below which a zero that is off is not worth a mark. */
const WORTH_MARKING = 0.01

/** Where the indicator did not read zero without load. */
export function levelsOf(
  { zeros, results }: Reading,
  unit: ShownUnit,
  mark: (text: string) => string,
): CurveLevel[] {
  const leastN = WORTH_MARKING * Math.abs(results.peakForce.valueN ?? 0)
  return zeros
    .filter(zero => zero.basis === 'rest' && Math.abs(zero.levelN) > leastN)
    .map(({ fromS, toS, levelN, uncertaintyN }) => {
      const decimals = decimalsInWords(
        fromNewton(uncertaintyN, unit),
        fromNewton(results.peakForce.valueN ?? 0, unit),
      )
      const level = `${plainNumber(fromNewton(levelN, unit), decimals)} ${unit}`
      return { from: fromS, to: toS, forceN: levelN, label: mark(texts.read.noLoadRead(level)) }
    })
}

export const seamsOf = ({ joins }: JoinedLook): CurveSeam[] =>
  joins.map(({ at, pull }) => ({ at, label: texts.read.joinedHere(pull + 1) }))

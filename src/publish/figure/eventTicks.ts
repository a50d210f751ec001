import type { Reading, ReadingEvent } from '../../core/reading/document.ts'
import { elementsOf } from '../../core/reading/elementsOf.ts'
import { dropDecimals, eventLabel } from '../../core/reading/eventLabel.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import type { Look } from './look.ts'
import { type LabelPlace, placeLabels } from './placeLabels.ts'
import { line, type Svg, tag, words } from './svg.ts'
import { textWidth } from './textWidth.ts'

const MOST_ROWS = 6
export const rowPx = ({ size }: Look): number => Math.round(size.small * 1.4)

export interface PlacedEvent {
  readonly event: ReadingEvent
  readonly label: string
  /** `null`: no room for the words; the tick alone is drawn. */
  readonly place: LabelPlace | null
}

/** Each event with its words, and where over the plot these stand. */
export function placedEvents(
  reading: Reading,
  {
    xOf,
    unit,
    look,
    fromX,
    toX,
    rows = MOST_ROWS,
    short = false,
  }: {
    xOf: (timeS: number) => number
    unit: ShownUnit
    look: Look
    fromX: number
    toX: number
    rows?: number
    /** After the first partial break the others are told by their drop alone. */
    short?: boolean
  },
): PlacedEvent[] {
  const decimals = dropDecimals(reading, unit)
  const elements = elementsOf(reading)
  const firstPart = reading.events.findIndex(event => event.kind === 'partial-break')
  const labels = reading.events.map((event, i) => {
    const label = eventLabel(event, { unit, decimals, elements })
    return short && event.kind === 'partial-break' && i !== firstPart
      ? (label.split(', ')[1] ?? label)
      : label
  })
  const places = placeLabels(
    reading.events.map((event, i) => ({
      x: xOf(event.atS),
      width: textWidth(labels[i]!, look.size.small),
      weight: weightOf(event),
    })),
    { fromX, toX, rows },
  )
  return reading.events.map((event, i) => ({ event, label: labels[i]!, place: places[i]! }))
}

/** Rows that the labels take. */
export const rowsOf = (events: readonly PlacedEvent[]): number =>
  Math.max(0, ...events.map(({ place }) => (place ? place.row + 1 : 0)))

/** Short upright ticks on the curve, each with its label over the plot where it has one. */
export function eventTicks(
  events: readonly PlacedEvent[],
  {
    xOf,
    yOf,
    top,
    look,
  }: { xOf: (timeS: number) => number; yOf: (forceN: number) => number; top: number; look: Look },
): Svg {
  const pieces = events.map(({ event, label, place }) => {
    const x = xOf(event.atS)
    const y = yOf(Math.max(event.beforeN, 0))
    const labelY = place ? top - 10 - place.row * rowPx(look) : y - 16
    return tag(
      'g',
      { 'data-at': event.atS.toFixed(3) },
      tag('title', {}, `${label}, at ${event.atS.toFixed(2)} s`),
      line(x, y - 4, x, place ? labelY + 3 : y - 16, {
        stroke: look.ink,
        'stroke-width': place ? 0.75 : 1.5,
      }),
      place
        ? words(place.x, labelY, label, {
            'font-size': look.size.small,
            stroke: look.paper,
            'stroke-width': 3,
            'paint-order': 'stroke',
          })
        : null,
    )
  })
  return tag('g', {}, ...pieces)
}

/** Breaks are named before slips, and these before handling; among equals the greater drop. */
function weightOf({ kind, dropN }: ReadingEvent): number {
  const rank = { break: 4, slip: 3, 'partial-break': 2, rezero: 1, regrip: 1, unload: 0 }[kind]
  return rank * 1e9 + Math.min(Math.abs(dropN), 1e8)
}

import type { Reading, ReadingEvent } from '../../core/reading/document.ts'
import { elementsOf } from '../../core/reading/elementsOf.ts'
import { dropDecimals, eventLabel } from '../../core/reading/eventLabel.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import type { Look } from './look.ts'
import { type LabelPlace, placeLabels } from './placeLabels.ts'
import { line, rim, type Svg, tag, words } from './svg.ts'
import { textWidth } from './textWidth.ts'

const MOST_ROWS = 6
/** Events that a list under a plot tells one by one. */
const MOST_LISTED = 40
export const rowPx = ({ size }: Look): number => Math.round(size.small * 1.4)

export interface PlacedEvent {
  readonly event: ReadingEvent
  /** Its words. */
  readonly label: string
  /** Its number in the list under the plot where its words stand there; `null`: they stand over it. */
  readonly number: number | null
  /** What stands over the plot at its tick: its words, its number, or the numbers of a row of events that begins with it. */
  readonly over: string
  /** Where that stands; `null`: the event is one of such a row, or there is no room at all. */
  readonly place: LabelPlace | null
}

interface EventRoom {
  readonly xOf: (timeS: number) => number
  readonly unit: ShownUnit
  readonly look: Look
  readonly fromX: number
  readonly toX: number
  readonly rows?: number
  /** After the first partial break the others are told by their drop alone. */
  readonly short?: boolean
}

/**
 * Each event with its words, and where over the plot these stand. Words that have no room there give way to a number
 * and stand in a list under the plot; numbers that have none are put together, `3–5`, at the first of them.
 */
export function placedEvents(reading: Reading, room: EventRoom): PlacedEvent[] {
  const { xOf, look, fromX, toX, rows = MOST_ROWS } = room
  const { events } = reading
  const labels = labelsOf(reading, room)
  let groups: readonly Group[] = []
  for (;;) {
    const listed = new Set(groups.flat())
    const wishes = [
      ...groups.map(group => ({ at: group[0]!, text: numbersIn(group, groups), group })),
      ...events.flatMap((_, i) => (listed.has(i) ? [] : [{ at: i, text: labels[i]!, group: null }])),
    ]
    const places = placeLabels(
      wishes.map(({ at, text, group }) => ({
        x: xOf(events[at]!.atS),
        width: textWidth(text, look.size.small),
        // A number needs little room: it comes before all words.
        weight: weightOf(events[at]!) + (group === null ? 0 : NUMBER_WEIGHT),
      })),
      { fromX, toX, rows },
    )
    const without = wishes.filter((_, k) => places[k] === null)
    const words = without.flatMap(({ at, group }) => (group === null ? [[at]] : []))
    const merged = merge(groups, new Set(without.flatMap(({ group }) => (group === null ? [] : [group]))))
    if (words.length > 0 || merged.length < groups.length) {
      groups = [...(words.length > 0 ? groups : merged), ...words].sort((p, q) => p[0]! - q[0]!)
      continue
    }
    const order = groups.flat()
    return events.map((event, i) => {
      const k = wishes.findIndex(({ at }) => at === i)
      const number = listed.has(i) ? order.indexOf(i) + 1 : null
      return { event, label: labels[i]!, number, over: wishes[k]?.text ?? '', place: places[k] ?? null }
    })
  }
}

/** Events, by their place in time, that share one mark over the plot. */
type Group = readonly number[]

/** `3`, `3–5`: events in the list are counted in the order of time. */
function numbersIn(group: Group, groups: readonly Group[]): string {
  const order = groups.flat()
  const [first, last] = [order.indexOf(group[0]!) + 1, order.indexOf(group.at(-1)!) + 1]
  return first === last ? `${first}` : `${first}–${last}`
}

/** Each of these put to the one before it, or where there is none to the one after. */
function merge(groups: readonly Group[], homeless: ReadonlySet<Group>): Group[] {
  const merged: Group[] = []
  for (const group of groups) {
    const before = merged.at(-1)
    if (before !== undefined && (homeless.has(group) || (merged.length === 1 && homeless.has(before))))
      merged[merged.length - 1] = [...before, ...group]
    else merged.push(group)
  }
  return merged
}

function labelsOf(reading: Reading, { unit, short = false }: EventRoom): string[] {
  const decimals = dropDecimals(reading, unit)
  const elements = elementsOf(reading)
  const firstPart = reading.events.findIndex(event => event.kind === 'partial-break')
  return reading.events.map((event, i) => {
    const label = eventLabel(event, { unit, decimals, elements })
    return short && i !== firstPart ? byDropAlone(event, label) : label
  })
}

const byDropAlone = ({ kind }: ReadingEvent, label: string): string =>
  kind === 'partial-break' ? (label.split(', ')[1] ?? label) : label

/** What stands in the list, event by event: `3 −0.89 kgf`. Past the most that anyone reads, how many there are. */
export function listedEvents(events: readonly PlacedEvent[]): string[] {
  const listed = events.filter(({ number }) => number !== null)
  const told = listed
    .slice(0, MOST_LISTED)
    .map(({ event, number, label }, i) => `${number} ${i > 0 ? byDropAlone(event, label) : label}`)
  return listed.length > told.length ? [...told, `${listed.length} in all`] : told
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
  const pieces = events.map(({ event, label, over, place }) => {
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
        ? words(place.x, labelY, over, {
            'font-size': look.size.small,
            ...rim(look),
          })
        : null,
    )
  })
  return tag('g', {}, ...pieces)
}

/** More than any event weighs by itself. */
const NUMBER_WEIGHT = 1e10

/** Breaks are named before slips, and these before handling; among equals the greater drop. */
function weightOf({ kind, dropN }: ReadingEvent): number {
  const rank = { break: 4, slip: 3, 'partial-break': 2, rezero: 1, regrip: 1, unload: 0 }[kind]
  return rank * 1e9 + Math.min(Math.abs(dropN), 1e8)
}

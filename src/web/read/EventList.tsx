import { memo, useState } from 'react'
import type { Reading, ReadingEvent } from '../../core/reading/document.ts'
import { elementsOf } from '../../core/reading/elementsOf.ts'
import { dropDecimals } from '../../core/reading/eventLabel.ts'
import type { ShownUnit } from '../../core/units/force.ts'
import { useMark } from '../app/units.tsx'
import { Answered } from '../parts/Answered.tsx'
import { texts } from '../texts/index.ts'
import type { Draft, DraftKind } from './adjust/draft.ts'
import { eventId } from './curveMarks.ts'
import { eventSentence, isDrop } from './eventSentence.ts'

/** So many events are shown at first; a curve with more is mostly noise, or very long. */
const FIRST = 60

/** What happened, as sentences in the order of time: pulls, and the events in and between them. */
export const EventList = memo(function EventList({
  reading,
  unit,
  chosen,
  onLook,
  onAdjust,
}: {
  reading: Reading
  unit: ShownUnit
  /** The event that was pointed at on the curve. */
  chosen: string | null
  onLook: (atS: number) => void
  onAdjust: (kind: DraftKind, given: Partial<Draft>) => void
}) {
  const mark = useMark()
  const [showsAll, setShowsAll] = useState(false)
  const at = reading.events.findIndex(event => eventId(event) === chosen)
  const events = showsAll || at >= FIRST ? reading.events : reading.events.slice(0, FIRST)
  const decimals = dropDecimals(reading, unit)
  const elements = elementsOf(reading)
  const time = (atS: number) => (
    <button
      type="button"
      className="read-time"
      title={mark(texts.read.lookThere(atS))}
      onClick={() => onLook(atS)}
    >
      {mark(texts.read.at(atS))}
    </button>
  )
  const adjustEvent = (event: ReadingEvent) =>
    onAdjust('relabel', {
      atS: String(Number(event.atS.toFixed(4))),
      as: event.kind === 'slip' ? 'partial-break' : 'slip',
    })
  return (
    <Answered
      heading={texts.read.eventsHeading}
      answer={texts.read.eventsCount(reading.events.length, reading.pulls.length)}
      isAsked={chosen !== null}
    >
      {reading.events.length === 0 && <p>{texts.read.noEvents}</p>}
      <ol className="plain-list read-events">
        {events.map((event, i) => (
          <li key={eventId(event)} id={anchorOf(eventId(event))} data-chosen={eventId(event) === chosen}>
            <span className="read-when">
              <strong>{i + 1}</strong>
              {time(event.atS)}
            </span>
            <span>
              {mark(eventSentence(event, unit, decimals, elements))}
              {isDrop(event) && (
                <button type="button" className="button-plain read-quiet" onClick={() => adjustEvent(event)}>
                  {texts.read.wasElse}
                  <span className="hidden-words"> {mark(texts.read.at(event.atS))}</span>
                </button>
              )}
            </span>
          </li>
        ))}
      </ol>
      {events.length < reading.events.length && (
        <button type="button" className="button" onClick={() => setShowsAll(true)}>
          {texts.read.moreEvents(reading.events.length)}
        </button>
      )}
      <ol className="plain-list read-events">
        {reading.pulls.map((pull, i) => (
          <li key={pull.startS}>
            {time(pull.peakS)}
            <span>
              {mark(texts.read.pullSentence(i + 1, pull.startS, pull.endS, texts.read.pullEnds[pull.ends]))}
              <button
                type="button"
                className="button-plain read-quiet"
                onClick={() => onAdjust('drop-pull', { atS: String(Number(pull.peakS.toFixed(4))) })}
              >
                {texts.read.dropPullAt}
                <span className="hidden-words"> {i + 1}</span>
              </button>
            </span>
          </li>
        ))}
      </ol>
      <button type="button" className="button" onClick={() => onAdjust('relabel', { as: 'partial-break' })}>
        {texts.read.missedEvent}
      </button>
    </Answered>
  )
})

/** Where an event stands on the page. */
export const anchorOf = (id: string): string => `event-${id.replaceAll(/[^\w.-]/g, '-')}`

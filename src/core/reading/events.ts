import type { Analysis } from './analyse.ts'
import type { ReadingEvent } from './document.ts'

/** Everything that happened, in order of time: drops, new zeros, unloads and re-grips. */
export function eventsOf(analysis: Analysis): ReadingEvent[] {
  return [...dropEvents(analysis), ...rezeroEvents(analysis), ...unloadEvents(analysis)]
    .map(event => ({ ...event, atS: recordedTime(event.atS, analysis.signal.gaps) }))
    .sort((a, b) => a.atS - b.atS)
}

/** Nothing is dated inside a stretch without readings: what happened there is told at its beginning. */
const recordedTime = (atS: number, gaps: Analysis['signal']['gaps']): number =>
  gaps.find(({ fromS, toS }) => atS > fromS && atS < toS)?.fromS ?? atS

const dropEvents = ({ explained }: Analysis): ReadingEvent[] =>
  explained.map(({ drop, kind, elements, confidence }) => ({
    kind,
    atS: drop.atS,
    beforeN: drop.beforeN,
    afterN: drop.afterN,
    dropN: drop.beforeN - drop.afterN,
    elements,
    confidence,
  }))

/** Forces of a new zero are what the indicator showed, before and after. */
const rezeroEvents = ({ rezeros }: Analysis): ReadingEvent[] =>
  rezeros.map(({ atS, beforeN, afterN }) => ({
    kind: 'rezero',
    atS,
    beforeN,
    afterN,
    dropN: beforeN - afterN,
    elements: null,
    confidence: 0.95,
  }))

/** An unload where it sets in, and the re-grip in the rest before the next pull. */
function unloadEvents({ pulls, ends, loadN, series }: Analysis): ReadingEvent[] {
  const { timeS } = series
  return pulls.flatMap((pull, k): ReadingEvent[] => {
    const next = pulls[k + 1]
    const events: ReadingEvent[] = []
    if (ends[k] === 'unload') {
      let top = pull.to - 1
      while (top > pull.from && loadN[top - 1]! >= loadN[top]!) top--
      const beforeN = loadN[top]!
      events.push({
        kind: 'unload',
        atS: timeS[top]!,
        beforeN,
        afterN: 0,
        dropN: beforeN,
        elements: null,
        confidence: 0.9,
      })
    }
    if (next && ends[k] !== 'end-of-record') {
      const atS = (timeS[pull.to - 1]! + timeS[next.from]!) / 2
      events.push({ kind: 'regrip', atS, beforeN: 0, afterN: 0, dropN: 0, elements: null, confidence: 0.7 })
    }
    return events
  })
}

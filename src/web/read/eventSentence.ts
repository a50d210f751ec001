import type { ReadingEvent } from '../../core/reading/document.ts'
import { asSaid } from '../../core/reading/saidBy.ts'
import { fromNewton, type ShownUnit } from '../../core/units/force.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import { texts } from '../texts/index.ts'

/** Below this an event is said to be doubtful. */
const SURE = 0.7

/** An event as a sentence, without its time: “a part let go: the force fell from 45.2 to 37.8 N, by 7.4 N, 1 of 10.” */
export function eventSentence(
  event: ReadingEvent,
  unit: ShownUnit,
  decimals: number,
  elements: number | null,
): string {
  const show = (forceN: number) => plainNumber(fromNewton(forceN, unit), decimals)
  const gone = event.elements
  const words = texts.read.events[event.kind]({
    before: show(event.beforeN),
    after: show(event.afterN),
    drop: show(Math.abs(event.dropN)),
    unit,
    gone: gone === null ? null : gone.low === gone.high ? `${gone.estimate}` : `${gone.low} to ${gone.high}`,
    of: elements,
  })
  if (event.saidBy !== undefined) return `${words} ${texts.read.asSaid(asSaid(event.saidBy))}`
  return event.confidence < SURE ? `${words} ${texts.read.doubtful}` : words
}

/** Whether a person may say that it was something else. */
export const isDrop = ({ kind }: ReadingEvent): boolean =>
  kind === 'partial-break' || kind === 'break' || kind === 'slip'

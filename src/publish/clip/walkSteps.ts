import type { Reading, ReadingEvent } from '../../core/reading/document.ts'
import { elementsOf } from '../../core/reading/elementsOf.ts'
import { dropDecimals, type EventLabelOptions, eventLabel } from '../../core/reading/eventLabel.ts'
import { explain } from '../../core/reading/explain.ts'
import { showForceIn } from '../../core/reading/explainLedger.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import type { ShownUnit } from '../../core/units/force.ts'

/** One picture of a curve that is told step by step, and the sentence that goes with it. */
export interface WalkStep {
  readonly kind: 'raw' | 'zero' | 'part' | 'slip' | 'peak' | 'handled' | 'break' | 'later' | 'end'
  readonly sentence: string
  /** The curve is drawn up to here. */
  readonly toS: number
  /** What the step is about: a point on the curve, or none. */
  readonly atS: number | null
}

/** A saw-tooth of more teeth than this is told in as many handfuls of them. */
const MOST_PARTS = 12

/**
 * A curve told from the raw record to the final reading, in the order in which it happened: the record, its
 * zero, each part letting go, the peak, what was done by hand, the break, what let go later, the result with
 * its doubt. The sentences are those with which a reading explains itself.
 */
export function walkSteps(reading: Reading, unit: ShownUnit): WalkStep[] {
  const show = showForceIn(unit)
  const { ledger, whys } = explain(reading, show)
  const { startS, endS, samples, rateHz } = reading.recording
  const { peakForce } = reading.results
  const greatest = ledger?.lines[0]
  const record = `The log as it was received: ${samples} readings, ${rateHz.toPrecision(3)} a second`
  const peakSentences = sentencesOf(whys.find(why => why.about === 'peakForce')?.text ?? '')
  const happened = happenings(reading, unit)
  const laterWhys = whys.filter(why => why.about === 'laterPeaks')
  const later = reading.results.laterPeaks.map(
    (peak, i): WalkStep => ({
      kind: 'later',
      sentence: sentencesOf(laterWhys[i]?.text ?? '')[0] ?? '',
      toS: reading.pulls[peak.pull]?.endS ?? peak.atS,
      atS: peak.atS,
    }),
  )
  const peak: WalkStep[] =
    peakForce.atS === null
      ? []
      : [{ kind: 'peak', sentence: peakSentences[0] ?? '', toS: peakForce.atS, atS: peakForce.atS }]
  // At one time the peak comes first: what lets go there lets go from it.
  const inOrder = [...peak, ...happened, ...later].sort((a, b) => (a.atS ?? a.toS) - (b.atS ?? b.toS))
  const rest = peakForce.atS === null ? peakSentences : peakSentences.slice(1)
  return [
    {
      kind: 'raw',
      sentence:
        greatest === undefined
          ? `${record}.`
          : `${record}; ${greatest.text}: ${show(greatest.amountN, null)}.`,
      toS: startS,
      atS: null,
    },
    { kind: 'zero', sentence: zeroSentence(reading, show), toS: reading.pulls[0]?.startS ?? endS, atS: null },
    ...rising(inOrder),
    { kind: 'end', sentence: endSentence(reading, unit, rest.slice(0, 2)), toS: endS, atS: peakForce.atS },
  ]
}

/** The final reading, then what the explanation says of its doubt, as one sentence. */
function endSentence({ results }: Reading, unit: ShownUnit, rest: readonly string[]): string {
  const parts = [peakWords(results.peakForce, unit), ...rest].map(text => text.replace(/\.$/, ''))
  const [first = '', ...others] = parts
  const said = others.map(text =>
    /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text,
  )
  return `${first.charAt(0).toUpperCase()}${first.slice(1)}${said.length > 0 ? `: ${said.join('; ')}` : ''}.`
}

function zeroSentence(reading: Reading, show: (forceN: number, halfWidthN: number | null) => string): string {
  const { ledger, whys } = explain(reading, show)
  const corrections = reading.budget.filter(part => part.correctionN !== 0)
  const place = corrections.findIndex(part => part.source === 'zero')
  const line = place < 0 ? undefined : ledger?.lines[1 + place]
  // A correction smaller than the doubt is not worth figures of its own.
  if (line && Math.abs(line.amountN) > (reading.results.peakForce.uncertaintyN ?? 0)) {
    const amount = show(Math.abs(line.amountN), null)
    const done = line.amountN < 0 ? `${amount} is taken from the peak` : `${amount} is added to the peak`
    return `${line.text.charAt(0).toUpperCase()}${line.text.slice(1)}, so ${done}.`
  }
  const unknown = whys.find(why => why.about === 'zero-unknown')
  if (unknown) return sentencesOf(unknown.text)[0] ?? ''
  const rest = reading.zeros.find(zero => zero.basis === 'rest')
  return rest
    ? `Without load the cell read ${show(rest.levelN, rest.uncertaintyN)}, which is taken as the zero.`
    : 'No load was seen at rest, so the zero is that of the log.'
}

/** Everything that happened to the specimen, in order; what is told with a later peak is left to it. */
function happenings(reading: Reading, unit: ShownUnit): WalkStep[] {
  const laterPulls = reading.results.laterPeaks.flatMap(({ pull }) => reading.pulls[pull] ?? [])
  const stepS = reading.recording.rateHz > 0 ? 2 / reading.recording.rateHz : 0
  const told = (event: ReadingEvent) =>
    event.kind === 'break' &&
    laterPulls.some(p => event.atS >= p.peakS - stepS && event.atS <= p.endS + stepS)
  const events = reading.events.filter(event => !told(event)).sort((a, b) => a.atS - b.atS)
  const parts = events.filter(event => event.kind === 'partial-break').length
  const handful = Math.max(1, Math.ceil(parts / MOST_PARTS))
  const runs: ReadingEvent[][] = []
  for (const event of events) {
    const run = runs.at(-1)
    const last = run?.at(-1)
    if (run && last && goWith(last, event, run.length, handful)) run.push(event)
    else runs.push([event])
  }
  const options = { unit, decimals: dropDecimals(reading, unit), elements: elementsOf(reading) }
  return runs.map(run => {
    const said = run.map(event => `at ${event.atS.toFixed(2)} s ${spoken(event, options)}`).join('; ')
    const last = run.at(-1)!
    return {
      kind: KINDS[last.kind],
      sentence: `${said.charAt(0).toUpperCase()}${said.slice(1)}.`,
      toS: last.atS + stepS,
      atS: last.atS,
    }
  })
}

/** An event as a clause that can be read aloud. */
function spoken(event: ReadingEvent, options: EventLabelOptions): string {
  switch (event.kind) {
    case 'partial-break':
      return eventLabel(event, options)
    case 'break':
    case 'slip':
      return `it ${eventLabel(event, options)}`
    case 'unload':
      return 'the pull was backed off'
    case 'regrip':
      return 'it was re-gripped'
    case 'rezero':
      return 'the zero was set again'
  }
}

const KINDS: Readonly<Record<ReadingEvent['kind'], WalkStep['kind']>> = {
  'partial-break': 'part',
  break: 'break',
  slip: 'slip',
  unload: 'handled',
  regrip: 'handled',
  rezero: 'handled',
}

/** What was done by hand is one step from the unload to the new grip; parts go together in handfuls. */
function goWith(last: ReadingEvent, event: ReadingEvent, length: number, handful: number): boolean {
  if (KINDS[last.kind] === 'handled') return KINDS[event.kind] === 'handled'
  return last.kind === 'partial-break' && event.kind === 'partial-break' && length < handful
}

/** The curve only ever grows. */
function rising(steps: readonly WalkStep[]): WalkStep[] {
  let most = Number.NEGATIVE_INFINITY
  return steps.map(step => {
    most = Math.max(most, step.toS)
    return { ...step, toS: most }
  })
}

/** Sentences of a text; a point between digits or after a letter alone ends none. */
const sentencesOf = (text: string): string[] => text.split(/(?<=[.!?]) (?=[A-Z\d])/).filter(s => s !== '')

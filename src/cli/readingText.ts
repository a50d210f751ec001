import { printable } from '../core/printable.ts'
import type { Reading } from '../core/reading/document.ts'
import { laterPeakHalfN } from '../core/reading/doubtInProportion.ts'
import { elementsOf } from '../core/reading/elementsOf.ts'
import { eventLabel } from '../core/reading/eventLabel.ts'
import { resultWhys, type Why, warningWhys } from '../core/reading/explain.ts'
import { ledgerAmounts, ledgerOf, type ShowForce, showForceIn } from '../core/reading/explainLedger.ts'
import { peakWords } from '../core/reading/peakWords.ts'
import { selvedge } from '../core/reading/selvedge.ts'
import { whereItStood, zeroChoices, zeroSentence } from '../core/reading/zeroWords.ts'
import type { Recording } from '../core/recording.ts'
import { type ForceUnit, fromNewton, isOwnScale, type ShownUnit, unitOfLog } from '../core/units/force.ts'
import { decimalsFor, showForce } from '../core/units/showForce.ts'
import type { Io } from './io.ts'
import { selvedgeLine } from './selvedgeLine.ts'
import { pen, wrapped } from './terminal.ts'

export interface ReadingTextOptions {
  readonly io: Pick<Io, 'env' | 'outIsTerminal' | 'columns'>
  /** Unit to show forces in; `null`: that of the log. Numbers that are no force stay on the log's own scale. */
  readonly show: ForceUnit | null
  /** Also explain every result and warning. */
  readonly why?: boolean
}

/**
 * A reading for the terminal: the result on the first line, then the selvedge, the events, the budget of doubt and
 * the warnings. Names from the log are made printable.
 */
export function readingText(
  recording: Recording,
  reading: Reading,
  { io, show, why = false }: ReadingTextOptions,
): string {
  const unit = shownIn(reading, show)
  const columns = Math.max(40, Math.min(io.columns, 110))
  const draw = pen(io)
  const shown = showForceIn(unit)
  const ledger = ledgerLines(reading, unit, columns)
  const heading = (text: string) => `\n${draw('strong', text)}`
  const sections = [
    resultLine(reading, unit, draw),
    ...zeroLines(recording, reading, shown, columns),
    selvedgeLine(selvedge(recording, reading), columns),
    ...(reading.events.length > 0 ? [heading('What happened'), ...eventLines(reading, unit)] : []),
    ...laterLines(reading, unit),
    ...(ledger.length > 0 ? [heading('What makes the peak'), ...ledger] : []),
    ...(reading.warnings.length > 0
      ? [heading('Take note'), ...whyLines(warningWhys(reading, shown), columns, draw)]
      : []),
    ...(why ? [heading('Why'), ...whyLines(resultWhys(reading, shown), columns, draw)] : []),
    `\n${draw('pencil', wrapped(`Understood: ${reading.recording.understood}`, columns, '  '))}`,
  ]
  return `${sections.join('\n')}\n`
}

/** The unit asked for, else the log's own; never one of force for numbers that are none. */
export function shownIn({ recording }: Reading, asked: ForceUnit | null): ShownUnit {
  const own = unitOfLog(recording.forceUnit)
  return asked === null || isOwnScale(own) ? own : asked
}

function resultLine(reading: Reading, unit: ShownUnit, draw: ReturnType<typeof pen>): string {
  const { peakForce } = reading.results
  const name = printable(reading.specimen?.name ?? reading.recording.name)
  const beside =
    unit === 'N' || isOwnScale(unit) || peakForce.valueN === null
      ? ''
      : ` = ${peakWords({ ...peakForce, zero: 'seen' }, 'N')}`
  const at = peakForce.atS === null ? '' : `, at ${peakForce.atS.toFixed(2)} s`
  const words = peakWords(peakForce, unit)
  return `${name}: ${/^peak|^no /.test(words) ? '' : 'peak force '}${draw('strong', words)}${beside}${at}`
}

/** Where more than one zero remains possible: the peaks that would follow, in one sentence, and how to settle it. */
function zeroLines(recording: Recording, reading: Reading, show: ShowForce, columns: number): string[] {
  const sentence = zeroSentence(reading.results.peakForce, show)
  if (sentence === null) return []
  const stood = whereItStood(zeroChoices(recording, reading), show)
  const cure = 'Settle it with --adjust: zero-here where the cell was empty, hold where a load was held.'
  return [`  ${wrapped(stood === null ? sentence : `${sentence} ${stood} ${cure}`, columns - 2, '  ')}`]
}

function eventLines(reading: Reading, unit: ShownUnit): string[] {
  const { noiseN, quantumN } = reading.recording
  const decimals = Math.min(3, decimalsFor(fromNewton(2 * Math.max(noiseN, quantumN, 1e-3), unit)))
  const elements = elementsOf(reading)
  const times = reading.events.map(event => event.atS.toFixed(2))
  const width = Math.max(...times.map(t => t.length))
  return reading.events.map((event, i) => {
    const unsure = event.confidence < 0.8 ? `  (${Math.round(100 * event.confidence)} % sure)` : ''
    return `  ${times[i]!.padStart(width)} s  ${eventLabel(event, { unit, decimals, elements })}${unsure}`
  })
}

const laterLines = (reading: Reading, unit: ShownUnit): string[] =>
  reading.results.laterPeaks.map(
    later =>
      `  later peak ${showForce(later.valueN, laterPeakHalfN(reading, later), unit)}, at ${later.atS.toFixed(2)} s`,
  )

/** What the peak is made of, line by line, and what makes its doubt. */
function ledgerLines(reading: Reading, unit: ShownUnit, columns: number): string[] {
  const ledger = ledgerOf(reading, showForceIn(unit))
  if (ledger === null) return []
  const amounts = ledgerAmounts(ledger, unit)
  const width = Math.max(...[amounts.total, ...amounts.lines.map(({ amount }) => amount)].map(a => a.length))
  const sums = amounts.lines.map(({ sign, amount, text }) => {
    const figure = `  ${sign.padStart(1)} ${amount.padStart(width)} ${unit}  `
    return figure + wrapped(text, columns - figure.length, ' '.repeat(figure.length))
  })
  const parts = amounts.halfWidths.map(({ amount, text }) => `${amount} ${unit} ${text}`).join(' · ')
  return parts === '' ? sums : [...sums, `  ${wrapped(`half-widths: ${parts}`, columns - 2, '    ')}`]
}

/** `code: text`, the code in colour and the lines that follow set in. */
const whyLines = (whys: readonly Why[], columns: number, draw: ReturnType<typeof pen>): string[] =>
  whys.map(({ about, text }) => {
    const lines = wrapped(`${about}: ${text}`, columns - 2, '    ')
    return `  ${draw('warning', about)}${lines.slice(about.length)}`
  })

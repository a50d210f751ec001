import { printable } from '../core/printable.ts'
import type { BudgetLine, Reading } from '../core/reading/document.ts'
import { eventLabel } from '../core/reading/eventLabel.ts'
import { peakWords } from '../core/reading/peakWords.ts'
import { selvedge } from '../core/reading/selvedge.ts'
import type { Recording } from '../core/recording.ts'
import { FORCE_UNITS, type ForceUnit, fromNewton } from '../core/units/force.ts'
import { decimalsFor, plainNumber, showForce } from '../core/units/showForce.ts'
import type { Io } from './io.ts'
import { selvedgeLine } from './selvedgeLine.ts'
import { pen, wrapped } from './terminal.ts'

export interface ReadingTextOptions {
  readonly io: Pick<Io, 'env' | 'outIsTerminal' | 'columns'>
  /** Unit to show forces in; `null`: that of the log, or newton for counts. */
  readonly show: ForceUnit | null
}

/**
 * A reading for the terminal: the result on the first line, then the selvedge, the events, the budget of doubt and
 * the warnings. Names from the log are made printable.
 */
export function readingText(
  recording: Recording,
  reading: Reading,
  { io, show }: ReadingTextOptions,
): string {
  const unit = shownIn(reading, show)
  const columns = Math.max(40, Math.min(io.columns, 110))
  const draw = pen(io)
  const heading = (text: string) => `\n${draw('strong', text)}`
  const sections = [
    resultLine(reading, unit, draw),
    selvedgeLine(selvedge(recording, reading), columns),
    ...(reading.events.length > 0 ? [heading('What happened'), ...eventLines(reading, unit)] : []),
    ...laterLines(reading, unit),
    ...(reading.budget.length > 0 ? [heading('What makes the doubt'), ...budgetLines(reading, unit)] : []),
    ...(reading.warnings.length > 0
      ? [
          heading('Take note'),
          ...reading.warnings.map(
            w => `  ${wrapped(`${draw('warning', w.code)}: ${w.text}`, columns - 2, '    ')}`,
          ),
        ]
      : []),
    `\n${draw('pencil', wrapped(`Understood: ${reading.recording.understood}`, columns, '  '))}`,
  ]
  return `${sections.join('\n')}\n`
}

/** The unit asked for, else the log's own; newton for raw counts. */
export function shownIn({ recording }: Reading, asked: ForceUnit | null): ForceUnit {
  return asked ?? FORCE_UNITS.find(unit => unit === recording.forceUnit) ?? 'N'
}

function resultLine(reading: Reading, unit: ForceUnit, draw: ReturnType<typeof pen>): string {
  const { peakForce } = reading.results
  const name = printable(reading.specimen?.name ?? reading.recording.name)
  const beside = unit === 'N' || peakForce.valueN === null ? '' : ` (${peakWords(peakForce, 'N')})`
  const at = peakForce.atS === null ? '' : `, at ${peakForce.atS.toFixed(2)} s`
  return `${name}: peak force ${draw('strong', peakWords(peakForce, unit))}${beside}${at}`
}

function eventLines(reading: Reading, unit: ForceUnit): string[] {
  const { noiseN, quantumN } = reading.recording
  const decimals = Math.min(3, decimalsFor(fromNewton(2 * Math.max(noiseN, quantumN, 1e-3), unit)))
  const elements = reading.specimen?.elements ?? null
  const times = reading.events.map(event => event.atS.toFixed(2))
  const width = Math.max(...times.map(t => t.length))
  return reading.events.map((event, i) => {
    const unsure = event.confidence < 0.8 ? `  (${Math.round(100 * event.confidence)} % sure)` : ''
    return `  ${times[i]!.padStart(width)} s  ${eventLabel(event, { unit, decimals, elements })}${unsure}`
  })
}

const laterLines = (reading: Reading, unit: ForceUnit): string[] =>
  reading.results.laterPeaks.map(
    later =>
      `  later peak ${showForce(later.valueN, later.uncertaintyN, unit)}, at ${later.atS.toFixed(2)} s`,
  )

/** Half-widths of 95 % intervals, from the standard uncertainties (coverage factor 2). */
function budgetLines({ budget }: Reading, unit: ForceUnit): string[] {
  const shown = budget.filter(part => part.standardN > 0 || part.correctionN !== 0)
  const halfWidthN = (part: BudgetLine) => 2 * part.standardN
  const decimals = decimalsFor(fromNewton(Math.max(...shown.map(halfWidthN), 1e-6), unit))
  const width = Math.max(...shown.map(part => part.source.length), 0)
  return shown.map(part => {
    const doubt = `± ${plainNumber(fromNewton(halfWidthN(part), unit), decimals)} ${unit}`
    const correction = fromNewton(part.correctionN, unit)
    const sign = correction < 0 ? '−' : '+'
    const added =
      part.correctionN === 0
        ? ''
        : `   corrected by ${sign}${plainNumber(Math.abs(correction), decimals)} ${unit}`
    return `  ${part.source.padEnd(width)}  ${doubt}${added}`
  })
}

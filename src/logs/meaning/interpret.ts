import { printable } from '../../core/printable.ts'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Assumption, Note, Recording } from '../../core/recording.ts'
import { nextStep } from '../../core/signal/scan.ts'
import type { RowsAbove } from '../lines/blocks.ts'
import type { Encoding } from '../lines/encoding.ts'
import type { HeaderLine } from '../lines/headerLine.ts'
import type { Layout } from '../lines/layout.ts'
import type { LogOptions } from '../options.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import { secondsIn } from '../words/units.ts'
import { channelOf, keepRows } from './channels.ts'
import { type ChosenColumns, chooseColumns } from './chooseColumns.ts'
import { type ColumnView, isDead } from './columnView.ts'
import { decimalContradictions, rateContradictions, unitContradictions } from './contradictions.ts'
import { toNewtonInPlace } from './forceUnit.ts'
import { type StatedTimeUnit, statedRate, statedTimeUnit } from './preamble.ts'
import { tensionSign } from './tension.ts'
import { makeTimeBase, meanStep, middleStep, type TimeBase } from './timeBase.ts'
import { timeUnit } from './timeUnit.ts'
import { understoodText } from './understood.ts'

export interface TableContext {
  readonly name: string
  readonly options: LogOptions
  readonly layout: Layout
  readonly encoding: Encoding
  /** Lines that may tell a unit or a rate: preamble, header, comments. */
  readonly texts: readonly { line: number; text: string }[]
}

const FEWEST_SAMPLES = 10
/** Times beyond this count from some far zero (an epoch); the record then starts at 0. */
const FAR_S = 1e8

/** Numbers by column → a recording. The table's arrays become the recording's; the table is used up. */
export function interpretTable(table: SampleTable, context: TableContext): Outcome<Recording> {
  const { name, options } = context
  if (table.rows === 0) return wrong(noNumbers(name, table.badRows[0] ?? context.texts[0] ?? null))
  const above = context.layout.kind === 'cells' ? context.layout.above : null
  if (above?.otherRecord) return wrong(twoRecords(name, context.layout, above.otherRecord))
  if (table.otherHeader) return wrong(otherHeader(name, table.otherHeader))
  const columns = chooseColumns(table, name, options)
  if (!columns.ok) return columns
  const { force, time, date } = columns.value
  const contradictions = [
    ...decimalContradictions(context.layout, options),
    ...rateContradictions(columns.value.overruled, table.rows, options),
  ]
  const stated = time === null && options.rateHz === undefined ? statedRate(context.texts) : null
  const rateHz = options.rateHz ?? stated?.rateHz
  if (time === null && rateHz === undefined) return wrong(needsRate(name, columns.value))
  if (time && isDead(time) && table.rows > 1) return wrong(standsStill(name, time))
  const mixed = options.decimal === undefined ? mixedMarks(name, [force, time], context.layout) : null
  if (mixed) return wrong(mixed)
  const unit = toNewtonInPlace(force, table, options.unit, context.texts, name)
  if (!unit.ok) return unit
  contradictions.push(...unitContradictions(force, unit.value.unit, options))

  if (time?.column.form === 'number') {
    dropTornTimes(table, time)
    dropStrayTimes(table, time)
  }
  const kept = readableRows(
    table,
    [force, time, date].flatMap(view => (view ? [view] : [])),
  )
  const rows = kept?.length ?? table.rows
  if (rows < FEWEST_SAMPLES) return wrong(tooShort(name, rows, table))
  if (kept) keepRows(table.columns, kept)
  const lineOf = (sample: number): number => table.lineOf(kept?.[sample] ?? sample)
  const restarts = table.restarts.map(row => sampleAt(row, kept))

  const timed = timesOf({
    time,
    date,
    rateHz,
    statedUnit: statedTimeUnit(textsBesideHeader(context)),
    rows,
    name,
    restarts,
    lineOf,
  })
  if (!timed.ok) return timed
  const { base, timeS, shown: timeShown, assumption: timeAssumption, zeroS } = timed.value
  const samples = base.dropLast ? rows - 1 : rows
  if (samples < FEWEST_SAMPLES) return wrong(tooShort(name, samples, table))
  const forceN = force.column.values.subarray(0, samples)
  const tension = tensionSign(forceN, options.tension)
  if (tension.negative) for (let i = 0; i < samples; i++) forceN[i] = -forceN[i]! + 0

  const skipped = skippedRows(table, rows, base.dropLast ? lineOf(rows - 1) : null)
  const notes = table.notes.map(
    (note): Note => ({ ...note, sample: Math.min(samples, sampleAt(note.sample, kept)) }),
  )
  const periodS = meanStep(timeS.subarray(0, samples), base.segments, base.stepS)
  return fine({
    name,
    sha256: '',
    timeS: timeS.subarray(0, samples),
    forceN,
    forceUnit: unit.value.unit,
    timeFrom: time === null ? 'rate' : time.column.form === 'number' ? 'column' : 'clock',
    segments: base.segments.map(segment => ({
      ...segment,
      to: Math.min(segment.to, samples),
      name,
      sha256: '',
      shiftS: segment.shiftS - zeroS,
    })),
    channels: columns.value.others.map(view => channelOf(view, samples)),
    notes,
    assumptions: [
      ...(unit.value.assumed ? [unitAssumption(unit.value.unit, unit.value.from)] : []),
      ...(timeAssumption ? [timeAssumption] : []),
      ...(context.layout.decimalUnclear && options.decimal === undefined
        ? [decimalAssumption(context.layout)]
        : []),
      ...(tension.assumption ? [tension.assumption] : []),
      ...base.assumptions,
      ...(above && above.count >= FEWEST_SAMPLES ? [rowsAboveLeftOut(above)] : []),
      ...contradictions,
      ...skipped,
      ...notesLeftOut(table),
    ],
    understood: understoodText({
      layout: context.layout,
      encoding: encodingText(context.encoding),
      time: stated ? `from the rate of ${stated.rateHz} Hz in line ${stated.line}` : timeShown,
      force: `from ${force.shown}${columns.value.because === '' ? '' : ` (${columns.value.because})`}`,
      unit: `${unit.value.unit} (${unit.value.from})`,
      tension: tension.from,
      samples,
      rateHz: periodS > 0 ? 1 / periodS : 0,
      segments: base.segments.length,
      more: [
        ...contradictions.map(({ text }) => text.replace(/\.$/, '')),
        ...(base.wraps > 0 ? [`the clock or counter began again ${base.wraps} times, undone`] : []),
        ...(above ? [`${above.count} rows above the samples (${linesText(above)}) are no part of them`] : []),
      ],
    }),
  })
}

/** A header's words are those of its columns, each for itself. */
function textsBesideHeader({ layout, texts }: TableContext): TableContext['texts'] {
  const header = layout.kind === 'cells' ? layout.header : null
  return header ? texts.filter(({ line }) => line < header.line || line > header.lastLine) : texts
}

/** Rows in which all of these columns have a value, or `null` where that is every row. */
function readableRows(table: SampleTable, needed: readonly ColumnView[]): Uint32Array | null {
  if (needed.every(({ column }) => column.missing === 0)) return null
  const kept: number[] = []
  for (let i = 0; i < table.rows; i++) {
    if (needed.every(({ column }) => Number.isFinite(column.values[i]!))) kept.push(i)
  }
  return Uint32Array.from(kept)
}

/** How many ordinary steps a time must leap ahead, and fall back from, to be a damaged number and not a pause. */
const STRAY_STEPS = 1000

/** Takes out single times that leap far ahead between two that follow each other: a digit too many, a damaged cell. */
function dropStrayTimes(table: SampleTable, { column }: ColumnView): void {
  const { values } = column
  const step = middleStep(values.subarray(0, table.rows))
  if (step === 0) return
  const next = (i: number): number =>
    nextStep(values, i, table.rows - 1, STRAY_STEPS * step, Number.POSITIVE_INFINITY)
  for (let i = next(1); i < table.rows - 1; i = next(i + 1)) {
    const on = values[i + 1]! - values[i - 1]!
    if (on > 0 && on <= 20 * step) {
      table.badRow(table.lineOf(i), `time ${values[i]}`)
      values[i] = Number.NaN
      column.missing++
    }
  }
}

/** Takes out times with letters after them that are no unit of time: `5.OO` is a damaged cell. */
function dropTornTimes(table: SampleTable, { column }: ColumnView): void {
  const { values, unitRuns } = column
  for (const [i, { word, fromRow }] of unitRuns.entries()) {
    if (word === '' || secondsIn(word) !== null) continue
    for (let row = fromRow; row < (unitRuns[i + 1]?.fromRow ?? table.rows); row++) {
      if (!Number.isFinite(values[row]!)) continue
      table.badRow(table.lineOf(row), `time ${values[row]} ${word}`)
      values[row] = Number.NaN
      column.missing++
    }
  }
}

/** The first kept sample at or after a row. */
function sampleAt(row: number, kept: Uint32Array | null): number {
  if (!kept) return row
  let low = 0
  let high = kept.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (kept[middle]! < row) low = middle + 1
    else high = middle
  }
  return low
}

interface Timed {
  readonly base: TimeBase
  readonly timeS: Float64Array
  readonly shown: string
  readonly assumption: Assumption | null
  /** Subtracted from all times, for a far zero. */
  readonly zeroS: number
}

interface TimeAsked {
  readonly time: ColumnView | null
  readonly date: ColumnView | null
  readonly rateHz: number | undefined
  readonly statedUnit: StatedTimeUnit | null
  readonly rows: number
  readonly name: string
  readonly restarts: readonly number[]
  readonly lineOf: (sample: number) => number
}

function timesOf({
  time,
  date,
  rateHz,
  statedUnit,
  rows,
  name,
  restarts,
  lineOf,
}: TimeAsked): Outcome<Timed> {
  if (time === null) return fine(timesFromRate(rateHz ?? 1, rows))
  const timeS = time.column.values.subarray(0, rows)
  const stamps = time.column.form !== 'number'
  const unit = stamps ? null : timeUnit(time, rows, statedUnit)
  const perSecond = unit ? Math.round(1 / unit.secondsInUnit) : 1
  const zeroS = stamps
    ? (date?.column.values[0] ?? 0) + timeS[0]!
    : farZero(timeS[0]!, unit?.secondsInUnit ?? 1)
  if (date) {
    for (let i = 0; i < rows; i++) timeS[i] = timeS[i]! + date.column.values[i]! - zeroS
  } else if (time.column.form === 'date-time') {
    for (let i = 0; i < rows; i++) timeS[i] = timeS[i]! - zeroS
  } else if (unit) {
    const zero = zeroS / unit.secondsInUnit
    if (unit.secondsInUnit > 1)
      for (let i = 0; i < rows; i++) timeS[i] = (timeS[i]! - zero) * unit.secondsInUnit
    else if (perSecond > 1 || zero !== 0)
      for (let i = 0; i < rows; i++) timeS[i] = (timeS[i]! - zero) / perSecond
  }
  const clock = time.column.form === 'clock' && date === null
  const base = makeTimeBase(timeS, { name, secondsInUnit: unit?.secondsInUnit ?? 1, clock, restarts, lineOf })
  if (!base.ok) return base
  // A clock is wound back to 0 only now: midnight must be seen as midnight.
  if (clock) for (let i = 0; i < rows; i++) timeS[i] = timeS[i]! - zeroS
  const shown = `from ${time.shown}${date ? ` with ${date.shown}` : ''}${unit ? ` (${unit.shown})` : ', a clock'}`
  return fine({ base: base.value, timeS, shown, assumption: unit?.assumption ?? null, zeroS })
}

const farZero = (first: number, secondsInUnit: number): number => {
  const firstS = first * secondsInUnit
  return Math.abs(firstS) > FAR_S ? firstS : 0
}

function timesFromRate(rateHz: number, rows: number): Timed {
  const timeS = new Float64Array(rows)
  for (let i = 0; i < rows; i++) timeS[i] = i / rateHz
  const segments = [{ from: 0, to: rows, began: 'start', shiftS: 0 }] as const
  const base = { segments, assumptions: [], stepS: 1 / rateHz, wraps: 0, dropLast: false }
  return { base, timeS, shown: `from the rate of ${rateHz} Hz`, assumption: null, zeroS: 0 }
}

function skippedRows(table: SampleTable, rows: number, droppedLine: number | null): Assumption[] {
  const missing = table.rows - rows
  const texts: string[] = []
  if (missing > 0) {
    const shown = table.badRows.map(bad => `line ${bad.line} “${bad.text}”`).join(', ')
    texts.push(
      `${missing} rows without a readable force or time were left out${shown === '' ? '' : ` (${shown}${table.badCount > 5 ? ' …' : ''})`}.`,
    )
  }
  if (droppedLine !== null)
    texts.push(`The last row (line ${droppedLine}) steps back in time and was left out.`)
  if (table.cutLine !== null) {
    texts.push(`The last line (${table.cutLine.line}, “${table.cutLine.text}”) was cut short and left out.`)
  }
  return texts.map(text => ({ code: 'rows-skipped', text }))
}

const linesText = ({ firstLine, lastLine }: RowsAbove): string =>
  firstLine === lastLine ? `line ${firstLine}` : `lines ${firstLine} to ${lastLine}`

const rowsAboveLeftOut = (above: RowsAbove): Assumption => ({
  code: 'rows-skipped',
  text: `${above.count} rows of numbers (${linesText(above)}) stand above the header of the samples and were left out.`,
})

const OTHER_COLUMNS = 'Split the log there and read its parts as one specimen with --specimen.'

const twoRecords = (name: string, layout: Layout, first: HeaderLine) => ({
  where: `${name}, line ${layout.kind === 'cells' ? (layout.header?.line ?? layout.firstLine) : layout.firstLine}`,
  what: `the columns are others from here on than in line ${first.line}, “${printable(first.names.join(', '))}”.`,
  cure: OTHER_COLUMNS,
})

const otherHeader = (name: string, { line, text, before }: NonNullable<SampleTable['otherHeader']>) => ({
  where: `${name}, line ${line}`,
  what: `the header “${text}” gives the columns another meaning than that in line ${before}.`,
  cure: OTHER_COLUMNS,
})

/** Decimals by one mark, and in the same column numbers by which the other may part decimals too. */
function mixedMarks(name: string, views: readonly (ColumnView | null)[], { decimal }: Layout) {
  const view = views.find(view => view?.column.grouped && view.column.form === 'number' && !view.run().whole)
  if (!view?.column.grouped) return null
  const { line, text } = view.column.grouped
  return {
    where: `${name}, line ${line}`,
    what: `“${text}” in ${view.shown} may be a thousand or a decimal: its other numbers have a decimal ${decimal}.`,
    cure: `Give --decimal ${decimal} if it is a thousand; if the log mixes its marks, mend it.`,
  }
}

const notesLeftOut = (table: SampleTable): Assumption[] =>
  table.notesLeftOut === 0
    ? []
    : [
        {
          code: 'notes-left-out',
          text: `The log holds more lines and cells of text than are kept; ${table.notesLeftOut} were left out.`,
        },
      ]

const unitAssumption = (unit: string, why: string): Assumption => ({
  code: 'unit-assumed',
  text: `The force is taken to be in ${unit} (${why}). Give --unit to say what it is.`,
})

const decimalAssumption = (layout: Layout): Assumption => ({
  code: 'decimal-assumed',
  text:
    layout.decimal === 'comma'
      ? 'Commas stand only before three digits; they are taken as decimal marks. --decimal point takes them as thousands marks.'
      : 'Commas stand only before three digits; they are taken as thousands marks. --decimal comma takes them as decimals.',
})

function encodingText({ label, from }: Encoding): string {
  const shown = label === 'utf-8' ? 'UTF-8' : label
  if (from === 'option') return `${shown} (as told)`
  return from === 'mark' || label === 'utf-8' ? shown : `${shown} (found by its content)`
}

/** `first`: a line that might have been expected to be one. */
export const noNumbers = (name: string, first: { readonly line: number; readonly text: string } | null) => ({
  where: first ? `${name}, line ${first.line}` : name,
  what: `no rows of numbers were found${first ? `; “${printable(first.text)}” is none` : ''}.`,
  cure: 'A log holds one sample a line: a time and a force, or a force with --rate.',
})

function needsRate(name: string, { force, others }: ChosenColumns) {
  const counter = others.find(view => view.run().counting)
  return {
    where: name,
    what: counter
      ? `there are no times: ${counter.shown} only numbers the rows.`
      : `there are no times beside the force (${force.shown}).`,
    cure: `Give the samples a second with --rate, for instance --rate 80${counter ? `; or --time ${counter.index + 1} if these are times` : ', or name the time with --time'}.`,
  }
}

const standsStill = (name: string, time: ColumnView) => ({
  where: name,
  what: `the time (${time.shown}) never changes.`,
  cure: 'Name another column with --time, or give the samples a second with --rate.',
})

function tooShort(name: string, samples: number, table: SampleTable) {
  const bad = table.badRows[0]
  return {
    where: bad ? `${name}, line ${bad.line}` : name,
    what: `only ${samples} samples could be read${bad ? `; “${bad.text}” could not` : ''}.`,
    cure: `A reading needs at least ${FEWEST_SAMPLES} samples.`,
  }
}

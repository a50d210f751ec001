import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { Note, Recording } from '../../core/recording.ts'
import { extentIn, tellExtent } from '../../core/signal/extent.ts'
import type { Encoding } from '../lines/encoding.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import {
  bareRate,
  decimalAssumption,
  guessedTimeText,
  idleColumns,
  linesText,
  namedBelow,
  notesLeftOut,
  rowsAboveLeftOut,
  unitAssumption,
  unitNotTold,
} from './assumed.ts'
import { channelOf, keepRows } from './channels.ts'
import { chooseColumns } from './chooseColumns.ts'
import { isDead } from './columnView.ts'
import {
  decimalContradictions,
  rateContradictions,
  unitContradictions,
  unitRowContradictions,
} from './contradictions.ts'
import { doubtfulTime } from './doubtfulTime.ts'
import { takeOutEndMark } from './endMark.ts'
import { forceScaleChange } from './forceScale.ts'
import { toNewtonInPlace } from './forceUnit.ts'
import { leftOutOf, leftOutTold, tooManyUnread } from './leftOut.ts'
import {
  againstTension,
  columnsSwap,
  FEWEST_SAMPLES,
  mixedMarks,
  needsRate,
  noNumbers,
  noSeries,
  onlyResults,
  otherHeader,
  standsStill,
  tooShort,
  twoRecords,
} from './logProblems.ts'
import { statedRate, statedTimeUnit } from './preamble.ts'
import { dropStrayTimes, dropTornTimes, dropTotals, readableRows, sampleAt } from './readableRows.ts'
import { isListOfSettings, isTableOfResults } from './settings.ts'
import { nameColumns } from './statedColumns.ts'
import { compareMaximum, statedMaxima } from './statedMaximum.ts'
import { swappedAt } from './swapped.ts'
import type { TableContext } from './tableContext.ts'
import { tensionSign } from './tension.ts'
import { meanStep } from './timeBase.ts'
import { timeScaleChange } from './timeScale.ts'
import { timesOf } from './times.ts'
import { isSinceEpoch } from './timeUnit.ts'
import { understoodText } from './understood.ts'

/** Numbers by column → a recording. The table's arrays become the recording's; the table is used up. */
export function interpretTable(table: SampleTable, context: TableContext): Outcome<Recording> {
  const { name, options } = context
  if (table.rows === 0)
    return wrong(noNumbers(name, table.unreadLines[0] ?? table.badRows[0] ?? context.texts[0] ?? null))
  const above = context.layout.kind === 'cells' ? context.layout.above : null
  if (above?.otherRecord) return wrong(twoRecords(name, context.layout, above.otherRecord))
  if (table.otherHeader) return wrong(otherHeader(name, table.otherHeader))
  if (isListOfSettings(table, context)) return wrong(noSeries(name, table))
  if (table.rows < FEWEST_SAMPLES) return wrong(tooShort(name, table.rows, table))
  const namedIn = nameColumns(table, context)
  if (isTableOfResults(table, context)) return wrong(onlyResults(name, table))
  const columns = chooseColumns(table, name, options)
  if (!columns.ok) return columns
  const { force, date } = columns.value
  const contradictions = [
    ...decimalContradictions(context.layout, options),
    ...rateContradictions(columns.value, table.rows, options),
  ]
  const stated =
    columns.value.time === null && options.rateHz === undefined ? statedRate(context.texts) : null
  const rateHz = options.rateHz ?? stated?.rateHz
  const { time } = columns.value
  if (time === null && rateHz === undefined) return wrong(needsRate(name, columns.value))
  if (time && isDead(time) && table.rows > 1) return wrong(standsStill(name, time))
  const mixed = options.decimal === undefined ? mixedMarks(name, [force, time], context.layout) : null
  if (mixed) return wrong(mixed)
  const swapped = time === null ? null : swappedAt(force, time, table.rows)
  if (swapped !== null) return wrong(columnsSwap(name, table.lineOf(swapped), force, time))
  const endMark = takeOutEndMark(table, force, time)
  const rescaled = forceScaleChange(force, endMark ? table.endMarkRow : table.rows, row => table.lineOf(row))
  const stock = statedMaxima(context)
  for (const { line } of stock) table.readAsText(line)
  const unit = toNewtonInPlace(force, table, options.unit, stock, textsBesideHeader(context), name)
  if (!unit.ok) return unit
  contradictions.push(
    ...unitContradictions(force, unit.value.unit, options),
    ...unitRowContradictions(force, context.layout, options),
  )

  if (time?.column.form === 'number') {
    dropTornTimes(table, time)
    dropStrayTimes(table, time)
    dropTotals(table, time, force)
  }
  const needed = [force, time, date].flatMap(view => (view ? [view] : []))
  const kept = readableRows(table, needed)
  const rows = kept?.length ?? table.rows
  const leftOut = leftOutOf(table, kept, needed)
  if (rows < FEWEST_SAMPLES) return wrong(tooShort(name, rows, table))
  const unread = tooManyUnread(leftOut, table, rows, name)
  if (unread) return wrong(unread)
  const lineOf = (sample: number): number => table.lineOf(kept?.[sample] ?? sample)
  if (kept) keepRows(table.columns, kept)
  const restarts = table.restarts.map(row => sampleAt(row, kept))

  const timed = timesOf({
    time,
    date,
    rateHz,
    statedUnit: statedTimeUnit(textsBesideHeader(context)),
    givenUnit: options.timeUnit,
    rows,
    name,
    restarts,
    lineOf,
    extent: kept || !time ? null : table.toldExtent(time.column),
  })
  if (!timed.ok) return timed
  const { base, shown: timeShown, assumption: timeAssumption, zeroS } = timed.value
  const samples = rows - base.leftOut
  if (samples < FEWEST_SAMPLES) return wrong(tooShort(name, samples, table))
  const timeS = timed.value.timeS.subarray(0, samples)
  const forceN = force.column.values.subarray(0, samples)
  const isAsRead = !kept && samples === rows && unit.value.isAsRead
  const asRead = isAsRead ? table.toldExtent(force.column) : null
  const extent = asRead ?? extentIn(forceN, 0, samples)
  const tension = tensionSign(forceN, options.tension, extent)
  if (tension.against !== null && options.tension !== undefined)
    return wrong(againstTension(name, options.tension, tension.against))
  if (tension.negative) for (let i = 0; i < samples; i++) forceN[i] = -forceN[i]! + 0
  tellExtent(timeS, base.extent)
  const forceExtent = tension.negative ? extentIn(forceN, 0, samples) : extent
  tellExtent(forceN, forceExtent)

  const skipped = leftOutTold(
    leftOut,
    table,
    base.leftOut === 0 ? null : { count: base.leftOut, line: lineOf(samples) },
  )
  const notes = table.notes.map(
    (note): Note => ({ ...note, sample: Math.min(samples, sampleAt(note.sample, kept)) }),
  )
  const periodS = meanStep(timeS, base.segments, base.stepS, base.extent)
  const guess = columns.value.timeIsGuess && time !== null && !isSinceEpoch(zeroS) ? time : null
  const doubtful = time === null ? null : doubtfulTime(time, base.stepS, samples, options)
  const scaled =
    time?.column.form === 'number' ? timeScaleChange(time, timeS, base.extent.greatestStep, lineOf) : null
  const maximum = compareMaximum(stock, forceN, forceExtent, unit.value.unit)
  return fine({
    name,
    sha256: '',
    timeS,
    forceN,
    forceUnit: unit.value.unit,
    timeFrom: time === null ? 'rate' : time.column.form === 'number' ? 'column' : 'clock',
    tension: { turned: tension.negative, told: options.tension !== undefined },
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
      ...(unit.value.unit === null ? [unitNotTold(unit.value.from)] : []),
      ...(unit.value.unit !== null && unit.value.assumed
        ? [unitAssumption(unit.value.unit, unit.value.from)]
        : []),
      ...(columns.value.idle.length > 0 ? [idleColumns(force, columns.value.idle)] : []),
      ...(guess ? [guessedTimeText(guess, stepText(base.stepS))] : []),
      ...(timeAssumption ? [timeAssumption] : []),
      ...(stated?.isBare ? [bareRate(stated)] : []),
      ...(doubtful ? [doubtful] : []),
      ...(scaled ? [scaled] : []),
      ...((context.layout.decimalUnclear || context.layout.decimal === 'either') &&
      options.decimal === undefined
        ? [decimalAssumption(context.layout)]
        : []),
      ...(tension.assumption ? [tension.assumption] : []),
      ...base.assumptions,
      ...(above && above.count >= FEWEST_SAMPLES ? [rowsAboveLeftOut(above)] : []),
      ...contradictions,
      ...(context.layout.kind === 'cells' ? namedBelow(context.layout) : []),
      ...skipped,
      ...(endMark ? [endMark] : []),
      ...(rescaled ? [rescaled] : []),
      ...(maximum?.assumption ? [maximum.assumption] : []),
      ...notesLeftOut(table),
    ],
    understood: understoodText({
      layout: context.layout,
      encoding: encodingText(context.encoding),
      time: stated ? `from the rate of ${stated.rateHz} Hz in line ${stated.line}` : timeShown,
      force: `from ${force.shown}${columns.value.because === '' ? '' : ` (${columns.value.because})`}`,
      unit: unit.value.unit === null ? 'unit not told' : `${unit.value.unit} (${unit.value.from})`,
      tension: tension.from,
      samples,
      rateHz: periodS > 0 ? 1 / periodS : 0,
      segments: base.segments.length,
      more: [
        ...(namedIn === null ? [] : [`columns named in line ${namedIn}`]),
        ...(maximum?.agrees ? [maximum.agrees] : []),
        ...contradictions.map(({ text }) => text.replace(/\.$/, '')),
        ...(base.wraps > 0 ? [`the clock or counter began again ${base.wraps} times, undone`] : []),
        ...(above ? [`${above.count} rows above the samples (${linesText(above)}) are no part of them`] : []),
      ],
    }),
  })
}

const stepText = (stepS: number): string => `${Number(stepS.toPrecision(3))} s`

/** A header's words are those of its columns, each for itself. */
function textsBesideHeader({ layout, texts }: TableContext): TableContext['texts'] {
  const header = layout.kind === 'cells' ? layout.header : null
  return header ? texts.filter(({ line }) => line < header.line || line > header.lastLine) : texts
}

function encodingText({ label, from }: Encoding): string {
  const shown = label === 'utf-8' ? 'UTF-8' : label
  if (from === 'option') return `${shown} (as told)`
  return from === 'mark' || label === 'utf-8' ? shown : `${shown} (found by its content)`
}

import { fine, type Outcome } from '../../core/problem.ts'
import { type Layout, understandLayout } from '../lines/layout.ts'
import { channelMeaning } from '../meaning/channels.ts'
import { chooseColumns } from '../meaning/chooseColumns.ts'
import { type ColumnView, unitWord } from '../meaning/columnView.ts'
import { timeUnit } from '../meaning/timeUnit.ts'
import type { LogOptions } from '../options.ts'
import { CellRows } from '../table/cellRows.ts'
import { takeJsonLine } from '../table/json.ts'
import { KeyRows } from '../table/keyRows.ts'
import { SampleTable } from '../table/sampleTable.ts'
import { multipleForceUnitOf } from '../words/units.ts'
import type { LineItem, LineSample } from './lineItem.ts'
import { type PlainLine, plainLine } from './plainLine.ts'

/** Takes lines one by one once it is known what they mean. */
export interface LineMeaning {
  take(text: string, line: number, arrivedS: number): LineItem[]
  /**
   * A reader for lines like this one, which has just been taken and gave nothing but `sample`: it sets
   * `sample`'s numbers to those of the line. `null` where each line must be taken in full.
   */
  like(text: string, sample: LineSample): LineLikeness | null
  /**
   * Whether the last line was a header that gives the columns another meaning: what follows is to be
   * understood anew.
   */
  isOver(): boolean
}

export interface LineLikeness {
  /** The sample of such a line, used again for the next; `null` where the line is of another make. */
  take(bytes: Uint8Array, from: number, to: number): LineSample | null
}

/** Rows by which an unnamed column shows whether it is a time. */
const ROWS_TO_TELL = 6

type TakeLine = (text: string, line: number) => void

/**
 * What the lines so far, the first of which is line `from` of the stream, mean; `null` where more are needed.
 */
export function understandLines(
  lines: readonly string[],
  options: LogOptions,
  from = 1,
): Outcome<LineMeaning> | null {
  const layout = understandLayout(lines, options)
  if (!layout) return null
  // A whole document never ends while a rig runs: its lines are taken as they are.
  const kind: Layout = layout.kind === 'json' ? { ...layout, kind: 'json-lines' } : layout
  const trial = new SampleTable()
  const takeTrial = lineTaker(kind, trial)
  for (const [i, text] of lines.entries()) if (i + 1 >= layout.firstLine) takeTrial(text, i + 1)
  if (trial.rows === 0) return null
  const chosen = chooseColumns(trial, 'the stream', options)
  const numbers = trial.columns.filter(column => column.form === 'number').length
  const plain = numbers === 1 || isNamed(chosen)
  if (!plain && trial.rows < ROWS_TO_TELL) return null
  if (!chosen.ok) return chosen
  const { time, force, date, others } = chosen.value
  const unitKnown = time?.meaning.unit?.of === 'time' || (time && unitWord(time.column) !== undefined)
  if (time?.column.form === 'number' && !unitKnown && trial.rows < ROWS_TO_TELL) return null
  const secondsInUnit = time?.column.form === 'number' ? timeUnit(time, trial.rows).secondsInUnit : 1
  return fine(
    lineMeaning(kind, { time, force, date, others, secondsInUnit }, options, layout.firstLine + from - 1),
  )
}

const isNamed = (chosen: ReturnType<typeof chooseColumns>): boolean =>
  chosen.ok && chosen.value.force.meaning.role === 'force' && chosen.value.time?.meaning.role === 'time'

function lineTaker(layout: Layout, table: SampleTable): TakeLine {
  if (layout.kind === 'cells') {
    const rows = new CellRows(layout, table)
    return (text, line) => void rows.take(text, line)
  }
  const rows = new KeyRows(table, layout)
  if (layout.kind === 'keys') return (text, line) => void rows.takeLine(text, line)
  return (text, line) => {
    if (!takeJsonLine(text.trim(), line, rows)) table.note(line, text)
  }
}

interface Chosen {
  readonly time: ColumnView | null
  readonly force: ColumnView
  readonly date: ColumnView | null
  readonly others: readonly ColumnView[]
  readonly secondsInUnit: number
}

function lineMeaning(layout: Layout, chosen: Chosen, options: LogOptions, firstLine: number): LineMeaning {
  const { time, force, date, others, secondsInUnit } = chosen
  const table = new SampleTable(16)
  const takeLine = lineTaker(layout, table)
  const perSecond = Math.round(1 / secondsInUnit)
  const toS = (value: number): number => (secondsInUnit < 1 ? value / perSecond : value * secondsInUnit)
  const firstValue = (view: ColumnView): number => columnLike(table, view)?.values[0] ?? Number.NaN
  const meanings = others.map(channelMeaning)
  const channels = meanings.map(({ channel }) => channel)
  const factors = meanings.map(({ factor }) => factor)
  const headerUnit = force.meaning.unit?.of === 'force' ? force.meaning.unit : null

  return {
    isOver: () => table.otherHeader !== null,
    take(text, line, arrivedS) {
      // The table holds one row at a time: a stream has no end.
      table.rows = 0
      table.notes.length = 0
      table.unreadableRows.length = 0
      if (layout.kind === 'cells' && line < firstLine) table.note(line, text)
      else takeLine(text, line)
      const items = table.notes.map((note): LineItem => ({ kind: 'note', line, text: note.text, arrivedS }))
      if (table.rows === 0) return items
      const value = firstValue(force)
      if (!Number.isFinite(value))
        return [...items, { kind: 'note', line, text: `no force in “${text.trim()}”`, arrivedS }]
      const run = columnLike(table, force)?.unitRuns
      const word = run?.at(-1)?.word ?? ''
      const found = (word === '' ? null : multipleForceUnitOf(word)) ?? headerUnit
      if (run) run.length = 0
      const stampS = time ? toS(firstValue(time)) + (date ? firstValue(date) : 0) : Number.NaN
      const timeS = Number.isFinite(stampS) ? stampS : null
      items.push({
        kind: 'sample',
        line,
        timeS,
        force: options.unit === undefined ? value * (found?.times ?? 1) : value,
        unit: options.unit ?? found?.unit ?? null,
        channels,
        values: others.map((view, c) => firstValue(view) * factors[c]!),
        arrivedS,
      })
      return items
    },
    like(text, { timeS, unit }) {
      if (date !== null || (time !== null && (timeS === null || time.column.form !== 'number'))) return null
      const plain = plainLine(text, layout)
      if (plain === null) return null
      const places = [force, ...others].map(view => placeOf(table, view))
      const timePlace = time === null ? -1 : placeOf(table, time)
      if (places.includes(-1) || (time !== null && timePlace < 0)) return null
      const times = options.unit === undefined ? (headerUnit?.times ?? 1) : 1
      return likeness(plain, { unit, times, channels, factors, places, timePlace, toS })
    },
  }
}

/** Which of the columns of numbers it is. */
function placeOf(table: SampleTable, view: ColumnView): number {
  const own = columnLike(table, view)
  return own === undefined ? -1 : table.columns.filter(column => column.form === 'number').indexOf(own)
}

interface Places {
  readonly unit: LineSample['unit']
  /** What a number of the log is in this unit. */
  readonly times: number
  readonly channels: LineSample['channels']
  readonly factors: readonly number[]
  /** Of the force, then of each channel. */
  readonly places: readonly number[]
  /** −1: lines carry no time. */
  readonly timePlace: number
  readonly toS: (value: number) => number
}

function likeness(
  plain: PlainLine,
  { unit, times, channels, factors, places, timePlace, toS }: Places,
): LineLikeness {
  const values = new Float64Array(channels.length)
  const sample = { timeS: null as number | null, force: 0, unit, channels, values }
  const [forcePlace = 0, ...channelPlaces] = places
  return {
    take(bytes, from, to) {
      if (!plain.take(bytes, from, to)) return null
      sample.force = plain.values[forcePlace]! * times
      if (timePlace >= 0) sample.timeS = toS(plain.values[timePlace]!)
      for (let c = 0; c < values.length; c++) values[c] = plain.values[channelPlaces[c]!]! * factors[c]!
      return sample
    },
  }
}

/** The column of this table that the view, made on another, speaks of: keys may come in another order. */
const columnLike = (table: SampleTable, view: ColumnView) =>
  view.column.name === ''
    ? table.columns[view.index]
    : (table.columns.find(column => column.name === view.column.name) ?? undefined)

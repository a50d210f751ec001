import { printable } from '../../core/printable.ts'
import type { QuotedLine } from '../../core/recording.ts'
import type { HeaderLine } from '../lines/headerLine.ts'
import type { Layout } from '../lines/layout.ts'
import { settledBy } from '../options.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import type { ChosenColumns } from './chooseColumns.ts'
import type { ColumnView } from './columnView.ts'

/** A record of fewer says nothing. */
export const FEWEST_SAMPLES = 10

const OTHER_COLUMNS = 'Split the log there and read its parts as one specimen with --specimen.'

export const twoRecords = (name: string, layout: Layout, first: HeaderLine) => ({
  where: `${name}, line ${layout.kind === 'cells' ? (layout.header?.line ?? layout.firstLine) : layout.firstLine}`,
  what: `the columns are others from here on than in line ${first.line}, “${printable(first.names.join(', '))}”.`,
  cure: OTHER_COLUMNS,
})

export const otherHeader = (
  name: string,
  { line, text, before }: NonNullable<SampleTable['otherHeader']>,
) => ({
  where: `${name}, line ${line}`,
  what: `the header “${text}” gives the columns another meaning than that in line ${before}.`,
  cure: OTHER_COLUMNS,
})

/** Decimals by one mark, and in the same column numbers by which the other may part decimals too. */
export function mixedMarks(name: string, views: readonly (ColumnView | null)[], { decimal }: Layout) {
  const view = views.find(view => view?.column.grouped && view.column.form === 'number' && !view.run().whole)
  if (!view?.column.grouped) return null
  const { line, text } = view.column.grouped
  return {
    where: `${name}, line ${line}`,
    what: `“${text}” in ${view.shown} may be a thousand or a decimal: its other numbers have a decimal ${decimal}.`,
    cure: `Give --decimal ${decimal} if it is a thousand; if the log mixes its marks, mend it.`,
    fields: settledBy('decimal'),
  }
}

/** `first`: a line that might have been expected to be one. */
export const noNumbers = (name: string, first: { readonly line: number; readonly text: string } | null) => ({
  where: first ? `${name}, line ${first.line}` : name,
  what: `no rows of numbers were found${first ? `; “${printable(first.text)}” is none` : ''}.`,
  cure: 'A log holds one sample a line: a time and a force, or a force with --rate.',
  fields: settledBy('rateHz'),
})

/** `found`: what the file holds instead. */
export const noSeries = (name: string, table: SampleTable) => ({
  where: name,
  what: `there is no series of readings in this file: its ${table.rows} rows of numbers are settings or results, each with a name of its own (“${printable(table.firstTexts.find(text => text !== '') ?? table.columns[0]?.name ?? '')}”).`,
  cure: 'Give the log of the pull itself, one reading a line.',
})

/** A row a specimen, each with its greatest load. */
export const onlyResults = (name: string, table: SampleTable) => ({
  where: name,
  what: `there is no series of readings in this file: its ${table.rows} rows give the results of as many specimens or pulls.`,
  cure: 'Give the log of a pull itself, one reading a line; if the rows are readings after all, say --rate.',
  fields: settledBy('rateHz'),
})

export const columnsSwap = (name: string, line: number, force: ColumnView, time: ColumnView | null) => ({
  where: `${name}, line ${line}`,
  what: `from here on ${force.shown} steps like the time, and ${time?.shown ?? 'the time'} does not: the columns have changed their places.`,
  cure: 'Split the log there and read its parts as one specimen with --specimen, each with its own --force.',
  fields: settledBy('force'),
})

export function needsRate(name: string, { force, others }: ChosenColumns) {
  const counter = others.find(view => view.run().counting)
  return {
    where: name,
    what: counter
      ? `there are no times: ${counter.shown} only numbers the rows.`
      : `there are no times beside the force (${force.shown}).`,
    cure: `Give the samples a second with --rate, for instance --rate 80${counter ? `; or --time ${counter.index + 1} if these are times` : ', or name the time with --time'}.`,
    fields: settledBy('rateHz', 'time'),
  }
}

export const standsStill = (name: string, time: ColumnView) => ({
  where: name,
  what: `the time (${time.shown}) never changes.`,
  cure: 'Name another column with --time, or give the samples a second with --rate.',
  fields: settledBy('time', 'rateHz'),
})

/** A sign that was told of this log and has its pulls read as pushes. */
export const againstTension = (name: string, told: 'positive' | 'negative', goes: 'up' | 'down') => ({
  where: name,
  what: `tension was told to be ${told}, but the force goes ${goes} from its rest in the pull: as told, nothing pulls in this log.`,
  cure: 'Leave --tension out to have the sign found, or say the other.',
  fields: settledBy('tension'),
  code: 'against-sign',
})

function firstUnreadable(table: SampleTable): QuotedLine | undefined {
  const row = table.unreadableRows[0]
  return row === undefined ? undefined : { line: table.lineOf(row), text: table.textOfRow(row) }
}

export function tooShort(name: string, samples: number, table: SampleTable) {
  const wide = table.columns.length
  if (wide >= 3 * FEWEST_SAMPLES && samples < FEWEST_SAMPLES)
    return {
      where: name,
      what: `the file holds ${samples} ${samples === 1 ? 'row' : 'rows'} of ${wide} cells: its readings stand along the lines.`,
      cure: 'Turn the table, so that each line holds one reading: a time and a force, or a force with --rate.',
      fields: settledBy('rateHz'),
    }
  const bad = table.unreadLines[0] ?? table.badRows[0] ?? firstUnreadable(table)
  return {
    where: bad ? `${name}, line ${bad.line}` : name,
    what: `only ${samples} samples could be read${bad ? `; “${bad.text}” could not` : ''}.`,
    cure: `A reading needs at least ${FEWEST_SAMPLES} samples.`,
  }
}

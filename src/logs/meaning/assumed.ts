import type { Assumption } from '../../core/recording.ts'
import type { RowsAbove } from '../lines/blocks.ts'
import type { Layout } from '../lines/layout.ts'
import type { SampleTable } from '../table/sampleTable.ts'
import { listed } from './columnProblems.ts'
import type { ColumnView } from './columnView.ts'
import type { StatedRate } from './preamble.ts'

export const linesText = ({ firstLine, lastLine }: RowsAbove): string =>
  firstLine === lastLine ? `line ${firstLine}` : `lines ${firstLine} to ${lastLine}`

export const rowsAboveLeftOut = (above: RowsAbove): Assumption => ({
  code: 'rows-skipped',
  text: `${above.count} rows of numbers (${linesText(above)}) stand above the header of the samples and were left out.`,
})

export const notesLeftOut = (table: SampleTable): Assumption[] =>
  table.notesLeftOut === 0
    ? []
    : [
        {
          code: 'notes-left-out',
          text: `The log holds more lines and cells of text than are kept; ${table.notesLeftOut} were left out.`,
        },
      ]

export const unitAssumption = (unit: string, why: string): Assumption => ({
  code: 'unit-assumed',
  text: `The force is taken to be in ${unit} (${why}). Give --unit to say what it is.`,
})

export const unitNotTold = (why: string): Assumption => ({
  code: 'unit-not-told',
  text: `The unit of the force is not told (${why}): its numbers stand as they are. Give --unit to say what it is.`,
})

/** A rate that stands above the samples without a unit. */
export const bareRate = ({ rateHz, line }: StatedRate): Assumption => ({
  code: 'time-unit-assumed',
  text: `Line ${line} gives the rate without a unit; it is taken for ${Number(rateHz.toPrecision(6))} readings a second. Give --rate if it is another.`,
})

export const guessedTimeText = ({ shown }: ColumnView, stepText: string): Assumption => ({
  code: 'time-doubtful',
  text: `No column is called a time; ${shown} is taken for it, since it steps like a clock (${stepText}). A travel at one speed would too. Say --time, or --rate if it is none.`,
})

export const idleColumns = (force: ColumnView, idle: readonly ColumnView[]): Assumption => ({
  code: 'column-assumed',
  text: `The force is taken from ${force.shown}: ${listed(idle)} ${idle.length > 1 ? 'idle' : 'idles'} beside it. Say --force if another was meant.`,
})

export const decimalAssumption = (layout: Layout): Assumption => ({
  code: 'decimal-assumed',
  text:
    layout.decimal === 'either'
      ? 'Some columns have a decimal point, others a decimal comma; each is read by its own, and neither is taken for a thousands mark.'
      : layout.decimal === 'comma'
        ? 'Commas stand only before three digits; they are taken as decimal marks. --decimal point takes them as thousands marks.'
        : 'Commas stand only before three digits; they are taken as thousands marks. --decimal comma takes them as decimals.',
})

/** A header that stands below the first of its rows. */
export const namedBelow = ({ header, firstLine }: Layout & { readonly kind: 'cells' }): Assumption[] =>
  header === null || header.line < firstLine
    ? []
    : [
        {
          code: 'layout-changes',
          text: `The columns are named only in line ${header.line}; the rows above, from line ${firstLine} on, are taken to be of the same columns and units.`,
        },
      ]

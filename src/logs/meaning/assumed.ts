import type { Assumption } from '../../core/recording.ts'
import type { RowsAbove } from '../lines/blocks.ts'
import type { Layout } from '../lines/layout.ts'
import type { SampleTable } from '../table/sampleTable.ts'

/** `footer`: rows at the end that step back in time, and the line of the first. */
export function skippedRows(
  table: SampleTable,
  rows: number,
  footer: { readonly count: number; readonly line: number } | null,
): Assumption[] {
  const missing = table.rows - rows
  const texts: string[] = []
  if (missing > 0) {
    const shown = table.badRows.map(bad => `line ${bad.line} “${bad.text}”`).join(', ')
    texts.push(
      `${missing} rows without a readable force or time were left out${shown === '' ? '' : ` (${shown}${table.badCount > 5 ? ' …' : ''})`}.`,
    )
  }
  if (footer?.count === 1)
    texts.push(`The last row (line ${footer.line}) steps back in time and was left out.`)
  else if (footer)
    texts.push(
      `The last ${footer.count} rows (from line ${footer.line} on) step back in time and were left out.`,
    )
  if (table.cutLine !== null) {
    texts.push(`The last line (${table.cutLine.line}, “${table.cutLine.text}”) was cut short and left out.`)
  }
  return texts.map(text => ({ code: 'rows-skipped', text }))
}

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

export const decimalAssumption = (layout: Layout): Assumption => ({
  code: 'decimal-assumed',
  text:
    layout.decimal === 'either'
      ? 'Some columns have a decimal point, others a decimal comma; each is read by its own, and neither is taken for a thousands mark.'
      : layout.decimal === 'comma'
        ? 'Commas stand only before three digits; they are taken as decimal marks. --decimal point takes them as thousands marks.'
        : 'Commas stand only before three digits; they are taken as thousands marks. --decimal comma takes them as decimals.',
})

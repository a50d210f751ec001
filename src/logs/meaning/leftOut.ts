import type { Problem } from '../../core/problem.ts'
import type { Assumption, QuotedLine } from '../../core/recording.ts'
import { KEPT_UNREAD, QUOTED, type SampleTable } from '../table/sampleTable.ts'
import type { ColumnView } from './columnView.ts'

/** Lines and rows that gave no sample, by the reason. */
export interface LeftOut {
  /** Lines that hold numbers and were not read. */
  readonly unread: { readonly count: number; readonly first: readonly QuotedLine[] }
  /** Rows that lack a force or a time, or have one that cannot be. */
  readonly withoutValue: { readonly count: number; readonly first: readonly QuotedLine[] }
  /** Rows with neither, which belong to other columns. */
  readonly ofOthers: number
}

/** Why rows are not among those kept (`null`: all are); `needed` are the columns of force and time. */
export function leftOutOf(
  table: SampleTable,
  kept: Uint32Array | null,
  needed: readonly ColumnView[],
): LeftOut {
  const unread: QuotedLine[] = []
  const withoutValue: QuotedLine[] = [...table.badRows]
  let unreadRows = 0
  let emptyRows = 0
  let ofOthers = 0
  let next = 0
  let k = 0
  if (kept)
    for (let row = 0; row < table.rows; row++) {
      if (kept[k] === row) {
        k++
        continue
      }
      if (table.endMarkRow >= 0 && row >= table.endMarkRow) break
      while (table.unreadableRows[next]! < row) next++
      const line = table.lineOf(row)
      if (table.unreadableRows[next] === row) {
        unreadRows++
        if (unread.length < KEPT_UNREAD) unread.push({ line, text: table.textOfRow(row) })
      } else if (
        needed.length > 1 &&
        needed.every(({ column }) => Number.isNaN(column.values[row]!)) &&
        !table.badRows.some(bad => bad.line === line)
      )
        ofOthers++
      else {
        emptyRows++
        if (withoutValue.length < QUOTED && !withoutValue.some(bad => bad.line === line))
          withoutValue.push({ line, text: '' })
      }
    }
  const first = [...table.unreadLines, ...unread].sort((a, b) => a.line - b.line).slice(0, KEPT_UNREAD)
  return {
    unread: { count: table.unreadCount + unreadRows, first },
    withoutValue: { count: emptyRows, first: withoutValue.sort((a, b) => a.line - b.line) },
    ofOthers,
  }
}

const quotedLines = (lines: readonly QuotedLine[], count: number): string => {
  const shown = lines
    .slice(0, QUOTED)
    .map(({ line, text }) => (text === '' ? `line ${line}` : `line ${line} “${text}”`))
  return `${shown.join(', ')}${count > shown.length ? ' …' : ''}`
}

const lines = (count: number): string => (count === 1 ? '1 line' : `${count} lines`)
const rows = (count: number): string => (count === 1 ? '1 row' : `${count} rows`)
const were = (count: number): string => (count === 1 ? 'was' : 'were')

/**
 * What was left out, each kind told with its first lines. `footer`: rows at the end that step back in time,
 * and the line of the first.
 */
export function leftOutTold(
  { unread, withoutValue, ofOthers }: LeftOut,
  table: SampleTable,
  footer: { readonly count: number; readonly line: number } | null,
): Assumption[] {
  const told: Assumption[] = []
  if (unread.count > 0)
    told.push({
      code: 'lines-not-read',
      text: `${lines(unread.count)} with numbers ${were(unread.count)} not read (${quotedLines(unread.first, unread.count)}).`,
      lines: unread,
    })
  if (table.otherwiseCount > 0)
    told.push({
      code: 'layout-changes',
      text: `${lines(table.otherwiseCount)} ${were(table.otherwiseCount)} written otherwise than the rest and read all the same (${quotedLines(table.otherwise, table.otherwiseCount)}).`,
    })
  const skipped: string[] = []
  if (withoutValue.count > 0)
    skipped.push(
      `${rows(withoutValue.count)} without a readable force or time ${were(withoutValue.count)} left out (${quotedLines(withoutValue.first, withoutValue.count)}).`,
    )
  if (ofOthers > 0)
    skipped.push(
      `${rows(ofOthers)} without force and time belong${ofOthers === 1 ? 's' : ''} to other columns.`,
    )
  if (footer?.count === 1)
    skipped.push(`The last row (line ${footer.line}) steps back in time and was left out.`)
  else if (footer)
    skipped.push(
      `The last ${footer.count} rows (from line ${footer.line} on) step back in time and were left out.`,
    )
  if (table.cutLine !== null)
    skipped.push(`The last line (${table.cutLine.line}, “${table.cutLine.text}”) was cut short and left out.`)
  return [...told, ...skipped.map(text => ({ code: 'rows-skipped' as const, text }))]
}

/** So many lines one after the other that were not read are no notes, but a part of the log. */
const MANY = 20
const MANY_SHARE = 0.2

/** Where a whole part of the log could not be read: a figure from the rest would pass for that of the log. */
export function tooManyUnread(
  { unread }: LeftOut,
  table: SampleTable,
  samples: number,
  name: string,
): Problem | null {
  const count = table.unreadInRuns
  if (count < MANY || count < MANY_SHARE * samples) return null
  const [first] = unread.first
  return {
    where: first ? `${name}, line ${first.line}` : name,
    what: `${lines(unread.count)} with numbers are written otherwise than the ${samples} that could be read (${quotedLines(unread.first, unread.count)}).`,
    cure: 'Split the log where its lines change and read the parts as one specimen with --specimen, or export it in one form.',
  }
}

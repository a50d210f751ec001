import { printable } from '../../core/printable.ts'
import type { Layout } from '../lines/layout.ts'
import { NO_GAP } from '../lines/lineGap.ts'
import { commentText, type Delimiter, splitCells } from '../lines/split.ts'
import { headerMeaning } from '../words/header.ts'
import type { LogPart } from './logPart.ts'

/** Columns of one of several tables beside one another: the first, and one past the last. */
interface Columns {
  readonly from: number
  readonly to: number
}

const LONGEST_TITLE = 80

/**
 * Tables side by side: groups of columns that come again in the same order, each with a time and a force of
 * its own. Empty where that is not so.
 */
export function tablesBeside(
  lines: readonly string[],
  layout: Layout & { readonly kind: 'cells' },
): LogPart[] {
  const { header, delimiter } = layout
  // Between blanks no cell can be empty, so that the end of a shorter table would shift those behind it.
  if (header === null || delimiter === ' ' || delimiter === '') return []
  const width = 1 + layout.forms.findLastIndex((form, c) => form !== 'text' || header.names[c] !== '')
  const groups = groupsOf(header.names.slice(0, width), header.units)
  if (groups.length < 2) return []
  const above = lineAbove(lines, header.line - 1)
  const titles = titlesIn(lines[above] ?? '', groups, delimiter) ?? titlesInNames(header.names, groups)
  const first = titles === null ? header.line - 1 : Math.max(0, above)
  return groups.map((columns, g) => {
    const own = lines.map((line, i) => (i < first ? line : cutLine(line, columns, groups, delimiter)))
    const last = own.findLastIndex(line => line.trim() !== '')
    return {
      title: titles?.[g] ?? null,
      firstLine: first + 1,
      lastLine: last + 1,
      header: header.names.slice(columns.from, columns.to).join(delimiter),
      text: [...own.slice(0, last + 1), ''].join('\n'),
      gap: NO_GAP,
      isBeside: true,
    }
  })
}

/** The shortest group of columns that all others repeat; blank columns may part them. */
function groupsOf(names: readonly string[], units: readonly string[]): Columns[] {
  const meanings = names.map((name, c) => headerMeaning(name, units[c]))
  const keys = meanings.map(({ role, unitText }, c) =>
    role === null ? (names[c] ?? '').replace(/\d+/g, '').trim().toLowerCase() : `${role} ${unitText}`,
  )
  const roles = meanings.map(({ role }) => role)
  const last = names.findLastIndex(name => name !== '') + 1
  for (let period = 2; 2 * period <= last + 1; period++) {
    const groups: Columns[] = []
    for (let from = 0; from < last; from += period) groups.push({ from, to: Math.min(last, from + period) })
    const own = roles.slice(0, period)
    const isRecord = own.filter(role => role === 'time').length === 1 && own.includes('force')
    const repeats = keys.every((key, c) => c >= last || key === keys[c % period])
    const left = keys.slice(groups.at(-1)!.to - groups.at(-1)!.from, period)
    if (isRecord && repeats && left.every(key => key === '')) return groups
  }
  return []
}

/** The nearest line of text above, from 0; −1 where there is none. */
function lineAbove(lines: readonly string[], header: number): number {
  for (let i = header - 1; i >= 0; i--) if ((lines[i] ?? '').trim() !== '') return i
  return -1
}

/** What stands above each group, where something does above all and no two are alike. */
function titlesIn(line: string, groups: readonly Columns[], delimiter: Delimiter): string[] | null {
  const cells = splitCells(line, delimiter)
  const titles = groups.map(({ from, to }) => cells.slice(from, to).find(cell => cell !== '') ?? '')
  return distinct(titles.map(title => printable(title, LONGEST_TITLE)))
}

/**
 * `A1 Time, A1 Load, B7 Time, B7 Load`: the words that the names of a group share at their beginning or end.
 */
function titlesInNames(names: readonly string[], groups: readonly Columns[]): string[] | null {
  const words = groups.map(({ from, to }) =>
    names.slice(from, to).flatMap(name => (name === '' ? [] : [name.split(/[\s_:-]+/)])),
  )
  const shared = (at: number): string[] =>
    words.map(own => {
      const [first = ''] = own.map(one => one.at(at) ?? '')
      return own.every(one => one.length > 1 && one.at(at) === first) ? first : ''
    })
  return distinct(shared(0)) ?? distinct(shared(-1))
}

const distinct = (titles: string[]): string[] | null =>
  titles.every(title => /\p{L}/u.test(title)) &&
  new Set(titles.map(title => title.toLowerCase())).size === titles.length
    ? titles
    : null

/**
 * Of a line that goes through the tables, the cells of one; `''` where they are empty. Other lines are all
 * tables'.
 */
function cutLine(
  line: string,
  { from, to }: Columns,
  groups: readonly Columns[],
  delimiter: Delimiter,
): string {
  const cells = splitCells(line, delimiter)
  if (cells.length <= (groups[1]?.from ?? 0) || commentText(line, delimiter) !== null) return line
  const own = cells.slice(from, to)
  return own.every(cell => cell === '') ? '' : own.map(cell => quoted(cell, delimiter)).join(delimiter)
}

const quoted = (cell: string, delimiter: Delimiter): string =>
  cell.includes(delimiter) || cell.includes('"') ? `"${cell.replaceAll('"', '""')}"` : cell

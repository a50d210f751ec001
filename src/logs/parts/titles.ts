import { printable } from '../../core/printable.ts'
import { cellsOf } from '../lines/delimiter.ts'
import { commentText, withoutResidue } from '../lines/split.ts'
import { BANNER } from '../words/banner.ts'
import { SPECIMEN } from '../words/specimen.ts'

/** What a table is called, and the line that says so, from 0. */
export interface Title {
  readonly title: string
  readonly line: number
}

/** A name stands at most so many lines of text above its header. */
const MOST_ABOVE = 8
const LONGEST = 80

/** `Specimen name: A3`, `Probe;7`. */
const NAMED = new RegExp(
  `^${SPECIMEN.source}(?:[ _-]?(?:names?|id|label|no\\.?|nr\\.?|number|nummer|bezeichnung|nom|nombre|nome))?\\s*[:=;,\\t]\\s*(\\S.*)$`,
  'iu',
)

/**
 * Names of tables from the lines of text above their headers: those at the same height above each, where they
 * differ from table to table; ones that speak of a specimen first. `null` where there are none.
 */
export function titlesOf(
  lines: readonly string[],
  spans: readonly { readonly from: number; readonly header: number }[],
): Title[] | null {
  const above = spans.map(({ from, header }) => textsAbove(lines, from, header))
  const heights = Array.from(
    { length: Math.min(MOST_ABOVE, ...above.map(texts => texts.length)) },
    (_, k) => k,
  )
  const candidates = heights
    .map(k => above.map(texts => texts[k]!))
    .filter(titles => new Set(titles.map(({ title }) => title.toLowerCase())).size === titles.length)
  return candidates.find(titles => titles.every(({ title }) => SPECIMEN.test(title))) ?? candidates[0] ?? null
}

function textsAbove(lines: readonly string[], from: number, header: number): Title[] {
  const found: Title[] = []
  for (let line = header - 1; line >= from && found.length < MOST_ABOVE; line--) {
    const title = titleIn(lines[line] ?? '')
    if (title !== '') found.push({ title, line })
  }
  return found
}

/** What changes from table to table and names none: a start of the device, a date, a result. */
const NO_NAME =
  /\d{1,2}:\d{2}|\d{4}[-/.]\d{1,2}[-/.]\d{1,2}|\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}|[=:;,\t]\s*"?[+\-−]?\d+[.,]\d/

function titleIn(line: string): string {
  const bare = withoutResidue(line)
  const text = (commentText(bare) ?? bare).replace(/^\W*---+|---+\W*$|[=*]{2,}/g, '').trim()
  if (!/[\p{L}\p{N}]/u.test(text) || NO_NAME.test(text) || BANNER.test(text)) return ''
  const value = NAMED.exec(text)?.[1]?.replace(/[;,\t]+$/, '')
  const cells = cellsOf(text, text.includes(';') ? ';' : text.includes('\t') ? '\t' : ',')
  const whole = cells.filter(cell => cell !== '').join(' ')
  const own = value !== undefined && /\p{L}/u.test(value) ? value : whole
  return printable(own.replace(/^"|"$/g, '').replace(/:$/, '').trim(), LONGEST)
}

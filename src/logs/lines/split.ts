/** What parts the cells of a line. `' '` stands for any run of blanks or tabs, `''` for none. */
export type Delimiter = '\t' | ';' | '|' | ',' | ' ' | ''

const ARROW = /\s*(?:->|=>|→|»|>>)\s*/

/** A stamp that a terminal program sets before what the device wrote, parted from it by a blank only. */
const LEADING_STAMP =
  /^\s*(\[[^\]]{0,30}\d:\d\d[^\]]{0,30}\]:?|\d{1,2}:\d{2}:\d{2}(?:[.,:]\d{1,9})?)\s+(?!->|=>|→|»|>>|[ap]\.?m\b)(?=\S)/i

/**
 * A stamp and how grave the line is, as a logger sets them before a row: `2026-05-01 12:01:03.250 [INFO]
 * 0.1,12.3`.
 */
const LOGGER_STAMP =
  /^\s*(\d{4}-\d{2}-\d{2}[ T]\d{2}:\d{2}:\d{2}(?:[.,]\d{1,9})?Z?|\d{2}:\d{2}:\d{2}(?:[.,]\d{1,9})?)[\s|-]+\[?(?:TRACE|DEBUG|INFO|NOTICE|WARN(?:ING)?|ERROR)\]?[\s:|-]+(?=[+\-−]?[.,]?\d)/

/** The lines of a text, whichever way they end; in half the time that a regular expression takes. */
export const linesOf = (text: string): string[] =>
  text.replaceAll('\r\n', '\n').replaceAll('\r', '\n').split('\n')

/** The cells of a line, trimmed, quotes taken off. An arrow (`12:01:03 -> 1.2 kg`) always parts cells. */
export function splitCells(line: string, delimiter: Delimiter): string[] {
  const stamp = line.includes(':') ? (LOGGER_STAMP.exec(line) ?? LEADING_STAMP.exec(line)) : null
  return stamp
    ? [stamp[1] ?? '', ...splitAtArrows(line.slice(stamp[0].length), delimiter)]
    : splitAtArrows(line, delimiter)
}

function splitAtArrows(line: string, delimiter: Delimiter): string[] {
  if (!line.includes('>') && !line.includes('→') && !line.includes('»')) return splitPart(line, delimiter)
  return line.split(ARROW).flatMap(part => (part === '' ? [] : splitPart(part, delimiter)))
}

function splitPart(line: string, delimiter: Delimiter): string[] {
  if (delimiter === ' ') {
    const cells = line.includes('"') ? line.match(/"[^"]*"|[^ \t]+/g) : line.match(/[^ \t]+/g)
    return (cells ?? []).map(unquoted)
  }
  if (line.includes('"')) return splitQuoted(line, delimiter)
  return delimiter === '' ? [line.trim()] : line.split(delimiter).map(cell => cell.trim())
}

const unquoted = (cell: string): string =>
  cell.length > 1 && cell.startsWith('"') && cell.endsWith('"') ? cell.slice(1, -1) : cell

/** RFC 4180: a cell that begins with a quote ends with one; a doubled quote inside stands for itself. */
function splitQuoted(line: string, delimiter: Delimiter): string[] {
  const cells: string[] = []
  let i = 0
  for (;;) {
    while (line[i] === ' ') i++
    let cell = ''
    if (line[i] === '"') {
      const close = closingQuote(line, i)
      if (close > 0) {
        cell = line.slice(i + 1, close).replaceAll('""', '"')
        i = close + 1
      }
    }
    const next = delimiter === '' ? -1 : line.indexOf(delimiter, i)
    const stop = next < 0 ? line.length : next
    cells.push((cell + line.slice(i, stop)).trim())
    if (next < 0) return cells
    i = next + 1
  }
}

function closingQuote(line: string, open: number): number {
  for (let i = open + 1; i < line.length; i++) {
    if (line[i] !== '"') continue
    if (line[i + 1] === '"') i++
    else return i
  }
  return -1
}

/**
 * Whether a quoted cell that begins in `line` is still open at its end, so that the next line belongs to it.
 */
export function quoteStaysOpen(line: string, delimiter: Delimiter): boolean {
  let i = 0
  for (;;) {
    while (line[i] === ' ') i++
    if (line[i] === '"') {
      const close = closingQuote(line, i)
      // A quote at the very end is residue, not the start of a cell.
      if (close < 0) return line.slice(i + 1).trim() !== ''
      i = close + 1
    }
    const next = delimiter === '' || delimiter === ' ' ? -1 : line.indexOf(delimiter, i)
    if (next < 0) return false
    i = next + 1
  }
}

/** Characters that editors and buffers leave at the ends of lines: blanks, NUL, Ctrl-Z, a byte-order mark. */
const isResidue = (code: number): boolean =>
  code === 32 ||
  code === 9 ||
  code === 0 ||
  code === 13 ||
  code === 10 ||
  code === 0x1a ||
  code === 0xfeff ||
  code === 0xa0

const ESCAPE = '\u001b'
/** What a terminal takes for colours and moves of its cursor, and a log of its output keeps. */
const TERMINAL_CODES = new RegExp(`${ESCAPE}\\[[\\d;?]*[A-Za-z]`, 'g')

/**
 * A line without residue at its ends, nor a backslash or a lone quote at its end; colours for a terminal are
 * none of it.
 */
export function withoutResidue(given: string): string {
  const line = given.includes(ESCAPE) ? given.replace(TERMINAL_CODES, '') : given
  let from = 0
  let to = line.length
  while (to > 0 && (isResidue(line.charCodeAt(to - 1)) || line[to - 1] === '\\')) to--
  while (from < to && isResidue(line.charCodeAt(from)) && line[from] !== '\t') from++
  if (line[to - 1] === '"' && quotesIn(line.slice(from, to)) % 2 === 1)
    return line.slice(from, to - 1).trimEnd()
  return line.slice(from, to)
}

function quotesIn(text: string): number {
  let count = 0
  for (let i = text.indexOf('"'); i >= 0; i = text.indexOf('"', i + 1)) count++
  return count
}

const COMMENT = /^\s*(?:#|;|\/\/|%)/

/**
 * The text of a comment line without its mark, or `null`. Where semicolons part the cells, a line that begins
 * with one and has another is a row whose first cell is empty.
 */
export function commentText(line: string, delimiter?: Delimiter): string | null {
  if (!COMMENT.test(line)) return null
  const bySemicolon = line.trimStart().startsWith(';')
  if (bySemicolon && delimiter === ';' && line.trimStart().indexOf(';', 1) > 0) return null
  const text = line.replace(/^\s*(?:#+|;+|\/\/+|%+)\s*/, '')
  // `;1,5` begins with an empty cell too.
  return bySemicolon && /^[\d,;]/.test(text) ? null : text
}

import type { Decimal } from '../cells/number.ts'
import type { Layout } from '../lines/layout.ts'

/** Reads the numbers of lines that differ from one understood line in nothing but these numbers. */
export interface PlainLine {
  /** The numbers of the last line taken, in the order of the columns of numbers. Used again for the next. */
  readonly values: Float64Array
  /** False where the line `bytes[from…to)` is of another make; `values` then mean nothing. */
  take(bytes: Uint8Array, from: number, to: number): boolean
}

/**
 * Between numbers: what parts cells, and units. Nothing that a row might be told by: no quotes, arrows,
 * stamps, comments.
 */
const HARMLESS = /^[ \t,;|a-zA-Z%°/]*$/
const NUMBER: Readonly<Record<Decimal, RegExp>> = {
  point: /^[+-]?\d+(?:\.\d+)?/,
  comma: /^[+-]?\d+(?:,\d+)?/,
}
/** After it, what might be a further part of the number; a comma that parts cells is none. */
const GOES_ON = /^[.,eE]/
const SPACE = 32
const TAB = 9
const PLUS = 43
const MINUS = 45
const MOST_DIGITS = 15
/**
 * Powers of ten that a double holds exactly: a number of up to 15 digits over one of them rounds once, hence
 * rightly.
 */
const TEN_TO = Float64Array.from({ length: MOST_DIGITS + 1 }, (_, i) => 10 ** i)

/**
 * From a line that was a row of this layout; `null` where a number or what stands between is not of the
 * plainest form.
 */
export function plainLine(text: string, layout: Layout): PlainLine | null {
  if (layout.kind !== 'cells' || layout.wrapped) return null
  const { delimiter, decimal } = layout
  if (decimal === 'either' || (delimiter === ',' && decimal === 'comma')) return null
  /** What stands before each number, without the blanks just before it, and after the last. */
  const literals: string[] = []
  let rest = text
  let literal = ''
  // A tab that parts cells is no blank.
  const leadingBlanks = delimiter === '\t' ? /^ */ : /^[ \t]*/
  const forms = [...layout.forms]
  while (forms.at(-1) === 'text') forms.pop()
  for (const [c, form] of forms.entries()) {
    if (form === 'number') {
      const blanks = leadingBlanks.exec(rest)?.[0] ?? ''
      const found = NUMBER[decimal].exec(rest.slice(blanks.length))?.[0]
      if (found === undefined) return null
      literals.push(literal)
      literal = ''
      rest = rest.slice(blanks.length + found.length)
      if (GOES_ON.test(rest) && !(delimiter === ',' && rest.startsWith(','))) return null
    }
    const isLast = c === forms.length - 1
    const cell = isLast ? rest : cellBefore(rest, delimiter)
    if (cell === null || !HARMLESS.test(cell)) return null
    literal += cell
    rest = rest.slice(cell.length)
  }
  literals.push(literal)
  return matcher(literals, decimal === 'comma' ? 44 : 46, delimiter)
}

/**
 * Up to and with the delimiter that ends the cell; blanks that part cells stand before the next one's first
 * sign.
 */
function cellBefore(rest: string, delimiter: string): string | null {
  if (delimiter === ' ') return /^[^ \t]*[ \t]+/.exec(rest)?.[0] ?? null
  const at = delimiter === '' ? -1 : rest.indexOf(delimiter)
  return at < 0 ? null : rest.slice(0, at + 1)
}

function matcher(texts: readonly string[], decimal: number, delimiter: string): PlainLine {
  const spaced = delimiter === ' '
  const otherBlank = delimiter === '\t' ? SPACE : TAB
  const trailing = delimiter === '\t' ? / +$/ : /[ \t]+$/
  const literals = texts.map((text, i) =>
    Uint8Array.from(i < texts.length - 1 ? text.replace(trailing, '') : text, sign => sign.charCodeAt(0)),
  )
  const values = new Float64Array(texts.length - 1)
  return {
    values,
    take(bytes, from, to) {
      let at = from
      for (let k = 0; k < literals.length; k++) {
        const literal = literals[k]!
        for (let i = 0; i < literal.length; i++) if (bytes[at++] !== literal[i]) return false
        if (k === values.length) return at === to
        const blanksFrom = at
        while (bytes[at] === SPACE || bytes[at] === otherBlank) at++
        if (spaced && k > 0 && at === blanksFrom) return false
        const sign = bytes[at]
        if (sign === MINUS || sign === PLUS) at++
        let whole = 0
        let digits = 0
        let fraction = -1
        for (; at < to; at++) {
          const byte = bytes[at]!
          const digit = byte - 48
          if (digit >= 0 && digit < 10) {
            whole = whole * 10 + digit
            digits++
          } else if (byte === decimal && fraction < 0 && digits > 0) fraction = digits
          else break
        }
        if (digits === 0 || digits > MOST_DIGITS || fraction === digits) return false
        const value = fraction < 0 ? whole : whole / TEN_TO[digits - fraction]!
        values[k] = sign === MINUS ? -value : value
      }
      return false
    },
  }
}

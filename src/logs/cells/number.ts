export type Decimal = 'comma' | 'point'
/**
 * `either`: the log writes some columns with a point and others with a comma; neither then marks thousands.
 */
export type DecimalMarks = Decimal | 'either'

const SIGN = String.raw`[+\-−–]?\s*`
const PLAIN: Readonly<Record<DecimalMarks, RegExp>> = {
  point: new RegExp(String.raw`^${SIGN}(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?$`),
  comma: new RegExp(String.raw`^${SIGN}(?:\d+(?:,\d*)?|,\d+)(?:[eE][+-]?\d{1,3})?$`),
  either: new RegExp(String.raw`^${SIGN}(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d{1,3})?$`),
}
/** Thousands marks: one kind throughout, groups of three, no group that begins with 0. */
const GROUPED: Readonly<Record<DecimalMarks, RegExp>> = {
  point: new RegExp(String.raw`^${SIGN}[1-9]\d{0,2}([,'’_ \u00a0\u202f])\d{3}(?:\1\d{3})*(?:\.\d*)?$`),
  comma: new RegExp(String.raw`^${SIGN}[1-9]\d{0,2}([.'’_ \u00a0\u202f])\d{3}(?:\1\d{3})*(?:,\d*)?$`),
  either: new RegExp(String.raw`^${SIGN}[1-9]\d{0,2}(['’_ \u00a0\u202f])\d{3}(?:\1\d{3})*(?:[.,]\d*)?$`),
}
const GROUP_MARKS: Readonly<Record<DecimalMarks, RegExp>> = {
  point: /[,'’_\s]/g,
  comma: /[.'’_\s]/g,
  either: /['’_\s]/g,
}
/** What devices and spreadsheets write where there is no value. */
const MISSING =
  /^(?:|[+-]?nan|n\/?a|#n\/a|#(?:value|ref|num|div\/0)!?|null|none|nil|[+-]?inf(?:inity)?|o\.?l\.?|over(?:load|range)?|err(?:or)?|-+|\*+|\?+)$/i

/** No number, quantity or stamp is longer than this. */
export const LONGEST_CELL = 80

export type NumberForm = 'plain' | 'grouped'

/** How `text` writes a number with this decimal mark, or `null` where it does not. */
export function numberForm(text: string, decimal: DecimalMarks): NumberForm | null {
  if (text.length > LONGEST_CELL) return null
  if (PLAIN[decimal].test(text)) return 'plain'
  return GROUPED[decimal].test(text) ? 'grouped' : null
}

/**
 * The number that `text` writes, or `null`. Thousands marks, a typographic minus and blanks after the sign
 * are taken.
 */
export function parseNumber(text: string, decimal: DecimalMarks): number | null {
  const form = numberForm(text, decimal)
  if (form === null) return null
  let bare = text
  if (form === 'grouped') bare = bare.replace(GROUP_MARKS[decimal], '')
  if (decimal !== 'point') bare = bare.replace(',', '.')
  const value = Number(bare.replace(/[−–]/, '-').replace(/^([+-])\s+/, '$1'))
  return Number.isFinite(value) ? value : null
}

/** True for an empty cell and for the words that stand for a missing or unreadable value. */
export const isMissing = (text: string): boolean => text.length <= LONGEST_CELL && MISSING.test(text)

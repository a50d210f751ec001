import { unitMeaning } from '../words/units.ts'
import { type DecimalMarks, isMissing, LONGEST_CELL, numberForm, parseNumber } from './number.ts'
import { parseClock, parseDate, parseDateTime } from './stamp.ts'

/**
 * What a cell holds. `grouped` is a number with thousands marks, `quantity` a number with a word after it.
 */
export type CellForm =
  | 'number'
  | 'grouped'
  | 'quantity'
  | 'clock'
  | 'date'
  | 'date-time'
  | 'unit'
  | 'missing'
  | 'text'

/** A number, however it is written. */
export const isValue = (form: CellForm): boolean =>
  form === 'number' || form === 'grouped' || form === 'quantity'

const QUANTITY =
  /^([+\-−–]?\s*[\d.,][\d.,'’_ \u00a0\u202f]*(?:[eE][+-]?\d{1,3})?)\s*([\p{L}µ°%"][\p{L}µ°%/]{0,11})\.?$/u

export interface Quantity {
  readonly value: number
  readonly unit: string
}

/**
 * `1.23 kg`, `+ 12.3N` → number and the word after it, known or not; `null` where the cell is not of that
 * form.
 */
export function parseQuantity(text: string, decimal: DecimalMarks): Quantity | null {
  if (text.length > LONGEST_CELL) return null
  const found = QUANTITY.exec(text)
  if (!found) return null
  const value = parseNumber((found[1] ?? '').trimEnd(), decimal)
  return value === null ? null : { value, unit: found[2] ?? '' }
}

/** East Asian full-width digits and signs → their plain forms. */
export const plainWidth = (text: string): string =>
  /[\uff01-\uff5e]/.test(text) ? text.normalize('NFKC') : text

export function cellForm(text: string, decimal: DecimalMarks): CellForm {
  if (text.length > LONGEST_CELL) return 'text'
  const form = numberForm(text, decimal)
  if (form !== null) return form === 'plain' ? 'number' : 'grouped'
  if (isMissing(text)) return 'missing'
  if (text.includes(':') && parseClock(text) !== null) return 'clock'
  if (parseDate(text) !== null || parseDate(text, true) !== null) return 'date'
  if (text.length > 10 && (parseDateTime(text) ?? parseDateTime(text, true)) !== null) return 'date-time'
  const quantity = parseQuantity(text, decimal)
  if (quantity !== null) return 'quantity'
  // No unit begins with a digit.
  return text.length < 13 && !/^\d/.test(text) && unitMeaning(text) !== null ? 'unit' : 'text'
}

/** Signs that a spreadsheet takes for the beginning of a formula, also in their full width. */
const FORMULA = '[=+\\-@＝＋－＠]'

const STARTS_FORMULA = new RegExp(`^[\\t\\r\\n]|(?:^|(?<=[;\\t\\r\\n]))(?=\\s*${FORMULA})`, 'g')

/**
 * Text of a person or a log as a cell that no spreadsheet runs: an apostrophe is set before what would begin
 * a formula, also behind a semicolon, a tab or a line end, where a spreadsheet with another delimiter would
 * begin a new cell.
 */
export const safeCell = (text: string): string => text.replace(STARTS_FORMULA, found => `'${found}`)

/** A cell of a table with this delimiter, in quotes where it needs them. */
export const quotedCell = (text: string, delimiter: string): string =>
  text.includes(delimiter) || /["\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text

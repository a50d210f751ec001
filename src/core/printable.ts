/**
 * Text from a log or a table as it may be shown on a terminal or in a message: control characters, escape
 * sequences' first bytes and marks that turn the direction of writing become `�`, and it is cut to `most`
 * characters with an ellipsis.
 */
export function printable(text: string, most = 60): string {
  const safe = text.toWellFormed().replace(/[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}\ufeff]/gu, '\ufffd')
  const letters = Array.from(safe)
  return letters.length <= most ? safe : `${letters.slice(0, most - 1).join('')}…`
}

/**
 * Text from a log or a table as it may be shown on a terminal or in a message. Control characters show as the signs
 * that stand for them (`␛` for escape), other controls and marks that turn the direction of writing as `�`; spaces
 * around it go, and it is cut to `most` characters with an ellipsis.
 */
export function printable(text: string, most = 60): string {
  const safe = text
    .trim()
    .toWellFormed()
    .replace(/[\p{Cc}\p{Zl}\p{Zp}\p{Bidi_Control}\ufeff]/gu, sign => {
      const code = sign.charCodeAt(0)
      return code < 0x20 ? String.fromCharCode(0x2400 + code) : '\ufffd'
    })
  const letters = Array.from(safe)
  return letters.length <= most ? safe : `${letters.slice(0, most - 1).join('')}…`
}

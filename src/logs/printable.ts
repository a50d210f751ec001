/** Text from a log made fit for a message: control characters shown as ␀ to ␟ or left out, cut to `most` characters. */
export function printable(text: string, most = 60): string {
  let shown = ''
  for (const character of text.trim()) {
    const code = character.codePointAt(0) ?? 0
    if (code < 0x20) shown += String.fromCodePoint(0x2400 + code)
    else if (
      (code >= 0x7f && code < 0xa0) ||
      (code >= 0x202a && code <= 0x202e) ||
      (code >= 0x2066 && code <= 0x2069)
    )
      shown += '�'
    else shown += character
    if (shown.length >= most) return `${shown}…`
  }
  return shown
}

/**
 * The cells that a spreadsheet puts on the clipboard: tabs between cells, line ends between rows, and quotes around a cell
 * that holds either, its own quotes doubled. Blanks around a cell are left out.
 */
export function clipboardCells(text: string): string[][] {
  const rows: string[][] = [[]]
  let cell = ''
  let isQuoted = false
  for (let at = 0; at < text.length; at++) {
    const letter = text[at]!
    if (isQuoted) {
      if (letter !== '"') cell += letter
      else if (text[at + 1] === '"') {
        cell += letter
        at++
      } else isQuoted = false
    } else if (letter === '"' && cell === '') isQuoted = true
    else if (letter === '\t' || letter === '\n') {
      rows.at(-1)!.push(cell.trim())
      cell = ''
      if (letter === '\n') rows.push([])
    } else if (letter !== '\r') cell += letter
  }
  rows.at(-1)!.push(cell.trim())
  // A spreadsheet ends the last row with a line end.
  return rows.filter((row, i) => i < rows.length - 1 || row.some(one => one !== ''))
}

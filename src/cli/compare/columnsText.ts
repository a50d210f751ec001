/** Cells in aligned columns, the first to the left, the others to the right, two spaces between. */
export function aligned(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, c) => Math.max(...rows.map(row => width(row[c] ?? ''))))
  return rows
    .map(row =>
      row
        .map((cell, c) => {
          const gap = ' '.repeat(widths[c]! - width(cell))
          return c === 0 ? cell + gap : gap + cell
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n')
}

const width = (text: string): number => Array.from(text).length

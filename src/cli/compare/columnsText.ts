/** Cells in aligned columns, two spaces between: the first to the left, the others as asked (figures to the right). */
export function aligned(rows: readonly (readonly string[])[], others: 'left' | 'right' = 'right'): string {
  const widths = (rows[0] ?? []).map((_, c) => Math.max(...rows.map(row => width(row[c] ?? ''))))
  return rows
    .map(row =>
      row
        .map((cell, c) => {
          const gap = ' '.repeat(widths[c]! - width(cell))
          return c === 0 || others === 'left' ? cell + gap : gap + cell
        })
        .join('  ')
        .trimEnd(),
    )
    .join('\n')
}

const width = (text: string): number => Array.from(text).length

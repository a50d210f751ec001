import type { LedgerRow, TableBlock } from '../../report/block.ts'
import { type Document, INK, MARGIN, PENCIL, RULE, room, SIZE, widthOf } from './paper.ts'

const GAP = 12
const ROW_GAP = 3

type Row = readonly string[]

/**
 * A table over the width of the page: the first column names the row, the figures of the others stand at the
 * right.
 */
export function tableOnPdf(
  doc: Document,
  { head, rows }: TableBlock,
  parent: PDFKit.PDFStructureElement,
): void {
  doc.font('bold').fontSize(SIZE.small)
  const widths = columnWidths(doc, [head, ...rows])
  const lineAt = (row: Row, isHead: boolean) => {
    const height = rowHeight(doc, row, widths)
    if (room(doc, height + 2 * ROW_GAP) && !isHead) lineAt(head, true)
    const y = doc.y + ROW_GAP
    const line = doc.struct('TR')
    parent.add(line)
    let x = MARGIN
    for (const [i, cell] of row.entries()) {
      const width = widths[i] ?? 0
      const kind = isHead || i === 0 ? 'TH' : 'TD'
      const at = x
      line.add(
        doc.struct(kind, {}, () => {
          doc
            .font(kind === 'TH' ? 'bold' : 'regular')
            .fontSize(SIZE.small)
            .fillColor(isHead ? PENCIL : INK)
            .text(cell, at, y, { width, align: i === 0 ? 'left' : 'right' })
        }),
      )
      x += width + GAP
    }
    line.end()
    doc.y = y + height + ROW_GAP
    ruled(doc, MARGIN, x - GAP, doc.y, RULE)
  }
  lineAt(head, true)
  for (const row of rows) lineAt(row, false)
  doc.x = MARGIN
  doc.y += 8
}

/**
 * Each as wide as its widest cell; the first one takes what is left, and where that is little, all give way.
 */
function columnWidths(doc: Document, rows: readonly Row[]): number[] {
  const wanted = (rows[0] ?? []).map((_, i) =>
    Math.max(...rows.map(row => doc.widthOfString(row[i] ?? '') + 1)),
  )
  const all = widthOf(doc) - GAP * (wanted.length - 1)
  const [first = 0, ...others] = wanted
  const figures = others.reduce((sum, width) => sum + width, 0)
  const least = Math.min(first, all / 4)
  if (figures + least <= all) return [Math.min(first, all - figures), ...others]
  const share = (all - least) / figures
  return [least, ...others.map(width => width * share)]
}

function rowHeight(doc: Document, row: Row, widths: readonly number[]): number {
  // The wider of the two weights: the names of rows are bold.
  doc.font('bold').fontSize(SIZE.small)
  return Math.max(
    ...row.map((cell, i) => doc.heightOfString(cell === '' ? ' ' : cell, { width: widths[i] ?? 0 })),
  )
}

function ruled(doc: Document, fromX: number, toX: number, y: number, colour: string): void {
  doc.markContent('Artifact', { type: 'Layout' })
  doc.save().lineWidth(0.5).strokeColor(colour).moveTo(fromX, y).lineTo(toX, y).stroke().restore()
  doc.endMarkedContent()
}

const AMOUNT_PX = 130

/** What makes up a figure: amounts at the right of their column, and under a line their sum. */
export function ledgerOnPdf(
  doc: Document,
  rows: readonly LedgerRow[],
  parent: PDFKit.PDFStructureElement,
): void {
  const left = MARGIN + AMOUNT_PX + GAP
  const width = widthOf(doc) - AMOUNT_PX - GAP
  for (const { amount, text, total } of rows) {
    doc.font(total ? 'bold' : 'regular').fontSize(SIZE.text)
    const height = Math.max(
      doc.heightOfString(amount, { width: AMOUNT_PX }),
      doc.heightOfString(text, { width }),
    )
    room(doc, height)
    if (total) ruled(doc, MARGIN, left + doc.widthOfString(text), doc.y, PENCIL)
    const y = doc.y + (total ? 2 : 0)
    const line = doc.struct('TR')
    parent.add(line)
    line.add(
      doc.struct('TD', {}, () => {
        doc.fillColor(INK).text(amount, MARGIN, y, { width: AMOUNT_PX, align: 'right' })
      }),
    )
    line.add(
      doc.struct('TD', {}, () => {
        doc.text(text, left, y, { width })
      }),
    )
    line.end()
    doc.y = y + height
  }
  doc.x = MARGIN
  doc.y += 4
}

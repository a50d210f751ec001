import PDFDocument from 'pdfkit'
import { LOOKS } from '../figure/look.ts'
import { SHAPES } from '../figure/shape.ts'
import { ahead } from '../report/ahead.ts'
import type { Block, LedgerRow, Report, TableBlock } from '../report/block.ts'
import { fontFiles } from './assets.ts'
import { opaquePng } from './opaquePng.ts'

type Document = InstanceType<typeof PDFDocument>

const MARGIN = 45
const SIZE = { title: 22, section: 15, specimen: 12, lead: 13, text: 10, small: 8.5 } as const
const INK = LOOKS.print.ink
const PENCIL = LOOKS.print.pencil

/**
 * A report as PDF where there is no browser: the same words, figures and photos in the shipped typeface, one under the
 * other, with an outline. Plainer than what a browser prints. WebP photos are told by their captions alone.
 */
export async function drawPdf(report: Report, madeAt: string): Promise<Uint8Array> {
  const [regular, bold] = fontFiles() as [string, string]
  const date = new Date(madeAt)
  const doc = new PDFDocument({
    size: 'A4',
    margin: MARGIN,
    lang: 'en',
    displayTitle: true,
    info: {
      Title: report.title,
      CreationDate: date,
      ModDate: date,
      Producer: 'Tenterhook',
      Creator: 'Tenterhook',
    },
  })
  const pieces: Buffer[] = []
  const ended = new Promise<void>((resolve, reject) => {
    doc.on('data', (piece: Buffer) => pieces.push(piece))
    doc.on('end', () => resolve())
    doc.on('error', reject)
  })
  doc.registerFont('regular', regular).registerFont('bold', bold)
  heading(doc, report.title, SIZE.title)
  if (report.question !== '') paragraph(doc, report.question, { size: SIZE.lead })
  paragraph(doc, report.about, { colour: PENCIL })
  for (const { heading: title, blocks } of report.sections) {
    doc.moveDown(1)
    const outline = doc.outline.addItem(title)
    heading(doc, title, SIZE.section)
    for await (const { block, drawn } of ahead(blocks, readied, BLOCKS_AHEAD))
      await addBlock(doc, block, { outline, drawn })
  }
  doc.end()
  await ended
  return Uint8Array.from(Buffer.concat(pieces))
}

/** Figures stand a few blocks apart, and two or three of them shall be in the making. */
const BLOCKS_AHEAD = 10

/** A block with its picture, where it has one. */
interface Readied {
  readonly block: Block
  readonly drawn: { readonly png: Uint8Array; readonly share: number | null } | null
}

async function readied(block: Block): Promise<Readied> {
  if (block.kind !== 'figure') return { block, drawn: null }
  const svg = block.draw({ look: LOOKS.print, shape: SHAPES.page, prefix: block.name })
  return { block, drawn: { png: await opaquePng(svg), share: shareOf(svg) } }
}

async function addBlock(
  doc: Document,
  block: Block,
  { outline, drawn }: { readonly outline: PDFKit.PDFOutline; readonly drawn: Readied['drawn'] },
): Promise<void> {
  switch (block.kind) {
    case 'text':
      return paragraph(doc, block.text, {
        size: block.tone === 'lead' ? SIZE.lead : SIZE.text,
        colour: block.tone === 'pencil' ? PENCIL : INK,
        indent: block.tone === 'warning' ? 12 : 0,
      })
    case 'heading':
      room(doc, 120)
      doc.moveDown(0.8)
      outline.addItem(block.text)
      return heading(doc, block.text, SIZE.specimen)
    case 'list':
      for (const [i, item] of block.items.entries())
        paragraph(doc, `${block.ordered ? `${i + 1}.` : '•'} ${item}`, { indent: 10, gap: 2 })
      return
    case 'table':
      return table(doc, block)
    case 'ledger':
      return ledger(doc, block.rows, block.under)
    case 'figure':
      return drawn === null ? undefined : picture(doc, drawn.png, block.caption, drawn.share)
    case 'photo': {
      const { mime, caption, name, bytes } = block.photo
      const words = caption === '' ? name : caption
      return mime === 'image/webp'
        ? paragraph(doc, `Photo: ${words}`, { colour: PENCIL })
        : picture(doc, await bytes(), words, null)
    }
  }
}

const widthOf = (doc: Document): number => doc.page.width - 2 * MARGIN

/** Goes to a new page where less than this is left of one. */
function room(doc: Document, height: number): void {
  if (doc.y + height > doc.page.height - MARGIN) doc.addPage()
}

function heading(doc: Document, text: string, size: number): void {
  room(doc, 4 * size)
  doc
    .font('bold')
    .fontSize(size)
    .fillColor(INK)
    .text(text, MARGIN, doc.y, { width: widthOf(doc) })
  doc.moveDown(0.3)
}

function paragraph(
  doc: Document,
  text: string,
  {
    size = SIZE.text,
    colour = INK,
    indent = 0,
    gap = 4,
  }: { size?: number; colour?: string; indent?: number; gap?: number } = {},
): void {
  doc
    .font('regular')
    .fontSize(size)
    .fillColor(colour)
    .text(text, MARGIN + indent, doc.y, { width: widthOf(doc) - indent, paragraphGap: gap })
}

function table(doc: Document, { caption, head, rows }: TableBlock): void {
  paragraph(doc, caption, { size: SIZE.small, colour: PENCIL })
  doc.font('regular').fontSize(SIZE.small).fillColor(INK)
  doc.table({
    position: { x: MARGIN, y: doc.y },
    maxWidth: widthOf(doc),
    defaultStyle: { border: [0, 0, 0.5, 0], borderColor: LOOKS.print.rule, padding: 3 },
    data: [[...head], ...rows.map(row => [...row])],
  })
  doc.x = MARGIN
  doc.moveDown(0.6)
}

function ledger(doc: Document, rows: readonly LedgerRow[], under: readonly string[]): void {
  room(doc, 16 * rows.length)
  for (const { amount, text, total } of rows) {
    const y = doc.y
    doc
      .font(total ? 'bold' : 'regular')
      .fontSize(SIZE.text)
      .fillColor(INK)
    doc.text(amount, MARGIN, y, { width: 130, align: 'right' })
    const low = doc.y
    doc.text(text, MARGIN + 142, y, { width: widthOf(doc) - 142 })
    doc.y = Math.max(low, doc.y)
  }
  doc.moveDown(0.3)
  for (const text of under) paragraph(doc, text, { size: SIZE.small, colour: PENCIL })
}

/** Height of a picture, at most; a photo's own is not known before it is drawn. */
const MOST_PX = 330

/** `share`: height over width, where it is known. */
function picture(doc: Document, bytes: Uint8Array, caption: string, share: number | null): void {
  const height = Math.min(MOST_PX, share === null ? MOST_PX : widthOf(doc) * share)
  room(doc, height + 24)
  doc.x = MARGIN
  doc.image(Buffer.from(bytes), { fit: [widthOf(doc), height] })
  doc.moveDown(0.3)
  paragraph(doc, caption, { size: SIZE.small, colour: PENCIL })
}

/** Height over width of a figure, as its head says. */
function shareOf(svg: string): number | null {
  const [, width, height] = / width="([\d.]+)" height="([\d.]+)"/.exec(svg) ?? []
  return width === undefined || height === undefined ? null : Number(height) / Number(width)
}

import { LOOKS } from '../../figure/look.ts'
import { SHAPES } from '../../figure/shape.ts'
import type { Block, FigureBlock, Report } from '../../report/block.ts'
import { type FigureToDraw, figureOnPdf } from './figureOnPdf.ts'
import {
  type Document,
  INK,
  MARGIN,
  newPaper,
  type Paper,
  PENCIL,
  RULE,
  room,
  SIZE,
  WARNING,
  widthOf,
} from './paper.ts'
import { ledgerOnPdf, tableOnPdf } from './tableOnPdf.ts'

/**
 * A report as PDF: its words, its figures as lines and letters, and its photos, in the shipped typeface;
 * tagged, so that it can be read aloud, with an outline. The same bytes on every machine. WebP photos are
 * told by their captions alone.
 */
export async function drawPdf(report: Report, madeAt: string): Promise<Uint8Array> {
  const paper = newPaper(report.title, new Date(madeAt))
  const { doc } = paper
  heading(paper, report.title, { size: SIZE.title, level: 'H1' })
  if (report.question !== '') paragraph(paper, report.question, { size: SIZE.lead })
  paragraph(paper, report.about, { colour: PENCIL })
  for (const { heading: title, blocks } of report.sections) {
    const figures = figuresOf(blocks)
    room(doc, SECTION_PX + leadHeight(blocks, 0, figures))
    sectionRule(doc)
    const outline = doc.outline.addItem(title)
    heading(paper, title, { size: SIZE.section, level: 'H2' })
    for (const [i, block] of blocks.entries()) {
      if (block.kind === 'heading') room(doc, SPECIMEN_PX + leadHeight(blocks, i + 1, figures))
      await addBlock(paper, block, { outline, figures })
    }
  }
  return paper.finish()
}

/** Height of a heading with a line or two under it. */
const SECTION_PX = 70
const SPECIMEN_PX = 60
/** Of a figure on the page, at most. */
const MOST_PX = 330
const CAPTION_PX = 24

type Figures = ReadonlyMap<FigureBlock, FigureToDraw>

const figuresOf = (blocks: readonly Block[]): Figures =>
  new Map(
    blocks.flatMap(block =>
      block.kind === 'figure'
        ? [[block, figureOnPdf(block.draw({ look: LOOKS.print, shape: SHAPES.page, prefix: block.name }))]]
        : [],
    ),
  )

/**
 * Height of the figure that follows at once or after a few lines of facts: its heading goes to the next page
 * with it.
 */
function leadHeight(blocks: readonly Block[], from: number, figures: Figures): number {
  for (const block of blocks.slice(from, from + 3)) {
    if (block.kind === 'figure') return heightOf(figures.get(block)!, A4_WIDTH) + CAPTION_PX
    if (block.kind === 'heading') return SPECIMEN_PX + leadHeight(blocks, blocks.indexOf(block) + 1, figures)
    if (block.kind !== 'text' || block.tone === 'lead') return 0
  }
  return 0
}

const A4_WIDTH = 595.28 - 2 * MARGIN
const heightOf = ({ share }: FigureToDraw, width: number): number => Math.min(MOST_PX, width * share)

async function addBlock(
  paper: Paper,
  block: Block,
  { outline, figures }: { readonly outline: PDFKit.PDFOutline; readonly figures: Figures },
): Promise<void> {
  const { doc } = paper
  switch (block.kind) {
    case 'text':
      if (block.tone === 'warning') return warning(paper, block.text)
      return paragraph(paper, block.text, {
        size: block.tone === 'lead' ? SIZE.lead : SIZE.text,
        colour: block.tone === 'pencil' ? PENCIL : INK,
      })
    case 'heading':
      doc.moveDown(0.8)
      outline.addItem(block.text)
      return heading(paper, block.text, { size: SIZE.specimen, level: 'H3' })
    case 'list':
      return list(paper, block.items, block.ordered === true)
    case 'table': {
      room(doc, 90)
      paragraph(paper, block.caption, { size: SIZE.small, colour: PENCIL })
      return told(paper, 'Table', parent => tableOnPdf(doc, block, parent))
    }
    case 'folded':
      doc.moveDown(0.5)
      heading(paper, block.heading, { size: SIZE.specimen, level: 'H3' })
      for (const inside of block.blocks) await addBlock(paper, inside, { outline, figures })
      return
    case 'ledger':
      room(doc, 16 * block.rows.length)
      told(paper, 'Table', parent => ledgerOnPdf(doc, block.rows, parent))
      for (const text of block.under) paragraph(paper, text, { size: SIZE.small, colour: PENCIL })
      return
    case 'figure':
      return figure(paper, figures.get(block)!, block.caption)
    case 'photo': {
      const { mime, caption, name, bytes } = block.photo
      const words = caption === '' ? name : caption
      return mime === 'image/webp'
        ? paragraph(paper, `Photo: ${words}`, { colour: PENCIL })
        : photo(paper, await bytes(), words)
    }
  }
}

/** Draws within an element of the tree by which the report is read aloud; its parts are added to it. */
function told(paper: Paper, kind: string, draw: (element: PDFKit.PDFStructureElement) => void): void {
  const element = paper.doc.struct(kind)
  paper.root.add(element)
  draw(element)
  element.end()
}

/** Draws the content of one element. */
const content = ({ doc, root }: Paper, kind: string, draw: () => void, alt?: string): void => {
  const element = doc.struct(kind, alt === undefined ? {} : { alt }, draw)
  root.add(element)
  element.end()
}

function sectionRule(doc: Document): void {
  doc.moveDown(1)
  doc.markContent('Artifact', { type: 'Layout' })
  doc
    .save()
    .lineWidth(0.75)
    .strokeColor(RULE)
    .moveTo(MARGIN, doc.y)
    .lineTo(MARGIN + widthOf(doc), doc.y)
    .stroke()
    .restore()
  doc.endMarkedContent()
  doc.y += 8
}

function heading(paper: Paper, text: string, { size, level }: { size: number; level: string }): void {
  const { doc } = paper
  room(doc, 4 * size)
  content(paper, level, () => {
    doc
      .font('bold')
      .fontSize(size)
      .fillColor(INK)
      .text(text, MARGIN, doc.y, { width: widthOf(doc) })
  })
  doc.y += 4
}

interface ParagraphLook {
  readonly size?: number
  readonly colour?: string
  readonly indent?: number
  readonly gap?: number
}

function paragraph(
  paper: Paper,
  text: string,
  { size = SIZE.text, colour = INK, indent = 0, gap = 4 }: ParagraphLook = {},
): void {
  const { doc } = paper
  content(paper, 'P', () => {
    doc
      .font('regular')
      .fontSize(size)
      .fillColor(colour)
      .text(text, MARGIN + indent, doc.y, { width: widthOf(doc) - indent, paragraphGap: gap })
  })
}

const WARNING_INDENT = 12

/** With a bar beside it, as on the page. */
function warning(paper: Paper, text: string): void {
  const { doc } = paper
  doc.font('regular').fontSize(SIZE.text)
  const height = doc.heightOfString(text, { width: widthOf(doc) - WARNING_INDENT })
  room(doc, height)
  doc.y += 2
  doc.markContent('Artifact', { type: 'Layout' })
  doc
    .save()
    .rect(MARGIN, doc.y - 1, 2.25, height)
    .fill(WARNING)
    .restore()
  doc.endMarkedContent()
  paragraph(paper, text, { indent: WARNING_INDENT })
  doc.y += 2
}

const ITEM_INDENT = 24

function list(paper: Paper, items: readonly string[], ordered: boolean): void {
  const { doc } = paper
  told(paper, 'L', parent => {
    for (const [i, item] of items.entries()) {
      doc.font('regular').fontSize(SIZE.text).fillColor(INK)
      const width = widthOf(doc) - ITEM_INDENT
      room(doc, Math.min(100, doc.heightOfString(item, { width })))
      const one = doc.struct('LI')
      parent.add(one)
      const { y } = doc
      const mark = ordered ? `${i + 1}.` : '•'
      one.add(
        doc.struct('Lbl', {}, () => {
          doc.text(mark, MARGIN + ITEM_INDENT - 6 - doc.widthOfString(mark), y, { lineBreak: false })
        }),
      )
      one.add(
        doc.struct('LBody', {}, () => {
          doc.text(item, MARGIN + ITEM_INDENT, y, { width, paragraphGap: 2 })
        }),
      )
      one.end()
    }
  })
  doc.x = MARGIN
  doc.y += 2
}

function figure(paper: Paper, { share, draw }: FigureToDraw, caption: string): void {
  const { doc } = paper
  const height = Math.min(MOST_PX, widthOf(doc) * share)
  room(doc, height + CAPTION_PX)
  const { y } = doc
  content(
    paper,
    'Figure',
    () => {
      const width = height / share
      draw(doc, { x: MARGIN + (widthOf(doc) - width) / 2, y, width })
    },
    caption,
  )
  doc.x = MARGIN
  doc.y = y + height + 4
  paragraph(paper, caption, { size: SIZE.small, colour: PENCIL })
}

function photo(paper: Paper, bytes: Uint8Array, caption: string): void {
  const { doc } = paper
  room(doc, MOST_PX + CAPTION_PX)
  doc.x = MARGIN
  content(paper, 'Figure', () => doc.image(Buffer.from(bytes), { fit: [widthOf(doc), MOST_PX] }), caption)
  doc.moveDown(0.3)
  paragraph(paper, caption, { size: SIZE.small, colour: PENCIL })
}

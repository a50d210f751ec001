import PDFDocument from 'pdfkit'
import { LOOKS } from '../../figure/look.ts'
import { fontFiles } from '../assets.ts'

export type Document = InstanceType<typeof PDFDocument>

export const MARGIN = 45
export const SIZE = { title: 22, section: 15, specimen: 12, lead: 13, text: 10, small: 8.5 } as const
export const { ink: INK, pencil: PENCIL, rule: RULE, warning: WARNING } = LOOKS.print

/** A report as it is being drawn on A4: its pages, and the tree by which it is read aloud. */
export interface Paper {
  readonly doc: Document
  readonly root: PDFKit.PDFStructureElement
  /** All of it, when the last has been drawn. */
  finish(): Promise<Uint8Array>
}

export function newPaper(title: string, date: Date): Paper {
  const [regular, bold] = fontFiles() as [string, string]
  const doc = new PDFDocument({
    size: 'A4',
    margin: MARGIN,
    // One of our own from the start: else a font of the library's is loaded first, from a file beside the
    // library.
    font: regular,
    lang: 'en',
    displayTitle: true,
    pdfVersion: '1.5',
    tagged: true,
    // The foot of each page is written when it is known how many there are.
    bufferPages: true,
    info: { Title: title, CreationDate: date, ModDate: date, Producer: 'Tenterhook', Creator: 'Tenterhook' },
  })
  const pieces: Buffer[] = []
  const ended = new Promise<void>((resolve, reject) => {
    doc.on('data', (piece: Buffer) => pieces.push(piece))
    doc.on('end', () => resolve())
    doc.on('error', reject)
  })
  doc.registerFont('regular', regular).registerFont('bold', bold)
  const root = doc.struct('Document')
  doc.addStructure(root)
  return {
    doc,
    root,
    async finish() {
      root.end()
      feet(doc, title)
      doc.end()
      await ended
      return Uint8Array.from(Buffer.concat(pieces))
    },
  }
}

/** What the report is called and which page this is, in the lower margin of each page but a lone one. */
function feet(doc: Document, title: string): void {
  const { count } = doc.bufferedPageRange()
  for (let i = 0; count > 1 && i < count; i++) {
    doc.switchToPage(i)
    const y = doc.page.height - MARGIN / 2
    doc.markContent('Artifact', { type: 'Pagination' })
    doc.font('regular').fontSize(SIZE.small).fillColor(PENCIL)
    const page = `${i + 1} of ${count}`
    const right = doc.page.width - MARGIN
    const room = right - MARGIN - doc.widthOfString(page) - 20
    doc.text(cutTo(doc, title, room), MARGIN, y, { lineBreak: false, baseline: 'alphabetic' })
    doc.text(page, right - doc.widthOfString(page), y, { lineBreak: false, baseline: 'alphabetic' })
    doc.endMarkedContent()
  }
}

export const widthOf = (doc: Document): number => doc.page.width - 2 * MARGIN

/** Goes to a new page where less than this is left of one; whether it did. */
export function room(doc: Document, height: number): boolean {
  if (doc.y + height <= doc.page.height - MARGIN || doc.y <= MARGIN) return false
  doc.addPage()
  return true
}

/** A text in one line, cut with an ellipsis where it is wider than the room, in the font that is set. */
export function cutTo(doc: Document, text: string, width: number): string {
  if (doc.widthOfString(text) <= width) return text
  let short = Array.from(text)
  while (short.length > 1 && doc.widthOfString(`${short.join('')}…`) > width) short = short.slice(0, -1)
  return `${short.join('')}…`
}

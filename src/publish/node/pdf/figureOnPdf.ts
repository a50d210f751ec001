import type PDFDocument from 'pdfkit'
import { type SvgElement, svgTree } from './svgTree.ts'

type Document = InstanceType<typeof PDFDocument>
type Given = Readonly<Record<string, string>>

/**
 * Handed down from an element to what stands in it (SVG 2, property index); all others hold for one element.
 */
const HANDED_DOWN = [
  'fill',
  'fill-opacity',
  'stroke',
  'stroke-width',
  'stroke-opacity',
  'stroke-dasharray',
  'stroke-linecap',
  'stroke-linejoin',
  'font-size',
  'font-weight',
  'text-anchor',
]

export interface FigureToDraw {
  /** Height over width. */
  readonly share: number
  draw(doc: Document, place: { readonly x: number; readonly y: number; readonly width: number }): void
}

/**
 * A figure of ours to be drawn on a page of a PDF as lines and letters, not as a picture: sharp at every
 * size, small, and its words can be found. The fonts `regular` and `bold` must be registered.
 */
export function figureOnPdf(svg: string): FigureToDraw {
  const root = svgTree(svg)
  const [left = 0, top = 0, wide = 1, high = 1] = numbersIn(root.given.viewBox ?? '')
  const named = new Map<string, SvgElement>()
  collectNamed(root, named)
  const pen = new Pen(named)
  return {
    share: Number(root.given.height) / Number(root.given.width),
    draw(doc, { x, y, width }) {
      const height = (width * Number(root.given.height)) / Number(root.given.width)
      const scale = Math.min(width / wide, height / high)
      doc.save()
      doc.translate(x + (width - wide * scale) / 2, y + (height - high * scale) / 2).scale(scale)
      doc.translate(-left, -top)
      for (const child of root.children) pen.draw(doc, child, root.given)
      doc.restore()
    },
  }
}

const numbersIn = (text: string): number[] =>
  text
    .split(/[\s,]+/)
    .filter(Boolean)
    .map(Number)

function collectNamed(element: SvgElement, named: Map<string, SvgElement>): void {
  if (element.given.id !== undefined) named.set(`#${element.given.id}`, element)
  for (const child of element.children) collectNamed(child, named)
}

const num = (given: Given, key: string): number => Number(given[key] ?? 0)

class Pen {
  readonly #named: ReadonlyMap<string, SvgElement>

  constructor(named: ReadonlyMap<string, SvgElement>) {
    this.#named = named
  }

  draw(doc: Document, element: SvgElement, above: Given): void {
    const { name, children } = element
    if (name === 'title' || name === 'desc' || name === 'defs' || name === 'clipPath') return
    const given = { ...handedDown(above), ...element.given }
    if (name === 'text') text(doc, element.text, given)
    else if (name === 'g' || name === 'use') {
      doc.save()
      this.#enter(doc, given)
      const of = name === 'use' ? this.#named.get(given.href ?? '')?.children : children
      for (const child of of ?? []) this.draw(doc, child, given)
      doc.restore()
    } else shape(doc, name, given)
  }

  #enter(doc: Document, given: Given): void {
    if (given.transform !== undefined) {
      const [, x, y] = /^translate\(([\d.-]+)[ ,]([\d.-]+)\)$/.exec(given.transform) ?? []
      if (x === undefined) throw new Error(`a figure moves by translate alone, not ${given.transform}`)
      doc.translate(Number(x), Number(y))
    }
    const [, clip] = /^url\((#.+)\)$/.exec(given['clip-path'] ?? '') ?? []
    const box = clip === undefined ? undefined : this.#named.get(clip)?.children[0]?.given
    if (box !== undefined)
      doc.rect(num(box, 'x'), num(box, 'y'), num(box, 'width'), num(box, 'height')).clip()
  }
}

const handedDown = (given: Given): Record<string, string> =>
  Object.fromEntries(HANDED_DOWN.flatMap(key => (given[key] === undefined ? [] : [[key, given[key]]])))

function shape(doc: Document, name: string, given: Given): void {
  const fill = name === 'line' ? 'none' : (given.fill ?? '#000000')
  const stroke = given.stroke ?? 'none'
  if (fill === 'none' && stroke === 'none') return
  if (fill !== 'none') doc.fillColor(fill, opacity(given, 'fill-opacity'))
  if (stroke !== 'none') pencil(doc, stroke, given)
  switch (name) {
    case 'rect':
      doc.rect(num(given, 'x'), num(given, 'y'), num(given, 'width'), num(given, 'height'))
      break
    case 'circle':
      doc.circle(num(given, 'cx'), num(given, 'cy'), num(given, 'r'))
      break
    case 'line':
      doc.moveTo(num(given, 'x1'), num(given, 'y1')).lineTo(num(given, 'x2'), num(given, 'y2'))
      break
    case 'path':
      if ((given.d ?? '') === '') return
      doc.path(given.d!)
      break
    case 'polyline':
    case 'polygon':
      points(doc, numbersIn(given.points ?? ''), name === 'polygon')
      break
    default:
      throw new Error(`a figure has no <${name}>`)
  }
  if (fill !== 'none' && stroke !== 'none') doc.fillAndStroke()
  else if (fill !== 'none') doc.fill()
  else doc.stroke()
}

function points(doc: Document, values: readonly number[], closed: boolean): void {
  for (let i = 0; i + 1 < values.length; i += 2) {
    if (i === 0) doc.moveTo(values[0]!, values[1]!)
    else doc.lineTo(values[i]!, values[i + 1]!)
  }
  if (closed) doc.closePath()
}

const opacity = (given: Given, key: string): number => Number(given[key] ?? 1)

function pencil(doc: Document, stroke: string, given: Given): void {
  doc.strokeColor(stroke, opacity(given, 'stroke-opacity'))
  doc.lineWidth(Number(given['stroke-width'] ?? 1))
  doc.lineCap(given['stroke-linecap'] === 'round' ? 'round' : 'butt')
  doc.lineJoin(given['stroke-linejoin'] === 'round' ? 'round' : 'miter')
  doc.addContent(`[${numbersIn(given['stroke-dasharray'] ?? '').join(' ')}] 0 d`)
}

/** Share of its width that a text stands left of its place. */
const ANCHORED: Readonly<Record<string, number>> = { start: 0, middle: 0.5, end: 1 }

function text(doc: Document, words: string, given: Given): void {
  if (words === '') return
  doc.font(given['font-weight'] === '700' ? 'bold' : 'regular').fontSize(Number(given['font-size'] ?? 14))
  const shift = ANCHORED[given['text-anchor'] ?? 'start'] ?? 0
  const x = num(given, 'x') - (shift === 0 ? 0 : shift * doc.widthOfString(words))
  const put = (how: { fill: boolean; stroke: boolean }) =>
    doc.text(words, x, num(given, 'y'), { lineBreak: false, baseline: 'alphabetic', ...how })
  if (given.stroke !== undefined && given.stroke !== 'none') {
    // The rim lies under the letters: that is what `paint-order` asks for wherever a figure gives its words
    // one.
    pencil(doc, given.stroke, { ...given, 'stroke-linejoin': 'round' })
    put({ fill: false, stroke: true })
  }
  doc.fillColor(given.fill ?? '#000000', opacity(given, 'fill-opacity'))
  put({ fill: true, stroke: false })
}

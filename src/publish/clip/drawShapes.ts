import { FONT_FAMILY } from '../figure/look.ts'
import type { Area } from './area.ts'
import { touches } from './changedAreas.ts'
import type { Shape, Stroke, Words } from './shapes.ts'

/**
 * The part of a canvas's 2D context that is used: any canvas will do, on a page, in a worker or beside one.
 */
export interface Context2D {
  fillStyle: unknown
  strokeStyle: unknown
  lineWidth: number
  lineCap: string
  lineJoin: string
  globalAlpha: number
  font: string
  textAlign: string
  textBaseline: string
  save(): void
  restore(): void
  rect(x: number, y: number, width: number, height: number): void
  clip(): void
  clearRect(x: number, y: number, width: number, height: number): void
  beginPath(): void
  moveTo(x: number, y: number): void
  lineTo(x: number, y: number): void
  arc(x: number, y: number, radius: number, from: number, to: number): void
  roundRect(x: number, y: number, width: number, height: number, radius: number): void
  setLineDash(dashes: number[]): void
  fill(): void
  stroke(): void
  fillText(text: string, x: number, y: number): void
  strokeText(text: string, x: number, y: number): void
}

/** Draws a picture over what the canvas already shows. The typeface must have been loaded. */
function drawShapes(context: Context2D, shapes: readonly Shape[]): void {
  context.lineJoin = 'round'
  context.textBaseline = 'alphabetic'
  for (const shape of shapes) draw(context, shape)
}

/** Draws an area of a picture anew; what lies outside stays. The area's edges are those of pixels. */
export function drawArea(context: Context2D, shapes: readonly Shape[], area: Area): void {
  const { x, y, width, height } = area
  context.save()
  context.beginPath()
  context.rect(x, y, width, height)
  context.clip()
  context.clearRect(x, y, width, height)
  drawShapes(
    context,
    shapes.filter(shape => touches(shape, area)),
  )
  context.restore()
}

function draw(context: Context2D, shape: Shape): void {
  switch (shape.kind) {
    case 'box':
      context.globalAlpha = shape.opacity
      context.fillStyle = shape.colour
      context.beginPath()
      context.roundRect(shape.x, shape.y, shape.width, shape.height, shape.radius)
      context.fill()
      context.globalAlpha = 1
      return
    case 'stroke':
      drawStroke(context, shape)
      return
    case 'dots':
      context.fillStyle = shape.colour
      context.beginPath()
      for (let i = 0; i < shape.points.length; i += 2) {
        const x = shape.points[i]!
        const y = shape.points[i + 1]!
        context.moveTo(x + shape.radius, y)
        context.arc(x, y, shape.radius, 0, 2 * Math.PI)
      }
      context.fill()
      return
    case 'ring':
      context.fillStyle = shape.fill
      context.strokeStyle = shape.colour
      context.lineWidth = shape.width
      context.beginPath()
      context.arc(shape.x, shape.y, shape.radius, 0, 2 * Math.PI)
      context.fill()
      context.stroke()
      return
    case 'words':
      drawWords(context, shape)
  }
}

function drawStroke(context: Context2D, { points, width, colour, dashes }: Stroke): void {
  context.strokeStyle = colour
  context.lineWidth = width
  context.lineCap = dashes.length > 0 ? 'butt' : 'round'
  context.setLineDash([...dashes])
  context.beginPath()
  let down = false
  for (let i = 0; i < points.length; i += 2) {
    const x = points[i]!
    if (Number.isNaN(x)) {
      down = false
      continue
    }
    if (down) context.lineTo(x, points[i + 1]!)
    else context.moveTo(x, points[i + 1]!)
    down = true
  }
  context.stroke()
  context.setLineDash([])
}

function drawWords(context: Context2D, { x, y, text, size, bold, anchor, colour, halo }: Words): void {
  context.font = `${bold ? 'bold' : 'normal'} ${size}px ${FONT_FAMILY}`
  context.textAlign = anchor === 'middle' ? 'center' : anchor
  if (halo) {
    context.strokeStyle = halo.colour
    context.lineWidth = halo.width
    context.strokeText(text, x, y)
  }
  context.fillStyle = colour
  context.fillText(text, x, y)
}

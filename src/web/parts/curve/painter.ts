import { type Painted, type Plane, paintLine, tailOf } from './paint.ts'
import { type Drawn, Picture, sharpness } from './picture.ts'

/** So many points are drawn afresh in every frame; of more a picture is made. */
const AT_ONCE = 40_000

/**
 * Draws lines on a canvas: a few afresh each time, very many by way of a picture, and those in front over it. Of one that
 * stands there alone and has only grown, as while it is recorded, what has come is drawn.
 */
export class Painter {
  readonly #canvas: HTMLCanvasElement
  readonly #colourOf: (colour: string) => string
  readonly #picture: Picture
  /** The one line that is on the canvas. */
  #alone: Painted | null = null
  #last: { readonly all: readonly Drawn[]; readonly plane: Plane; readonly isMany: boolean } | null = null

  constructor(canvas: HTMLCanvasElement, colourOf: (colour: string) => string) {
    this.#canvas = canvas
    this.#colourOf = colourOf
    this.#picture = new Picture(colourOf, () => this.#draw())
    // The browser may take a canvas back, and gives it again empty.
    canvas.addEventListener('contextrestored', this.#again)
  }

  paint(all: readonly Drawn[], plane: Plane): void {
    const back = all.filter(({ line }) => !line.front)
    const points = back.reduce((sum, { slice }) => sum + (slice?.points.value.length ?? 0), 0)
    const isMany = points > AT_ONCE
    if (isMany) this.#picture.want({ lines: back, plane })
    else this.#picture.end()
    this.#last = { all, plane, isMany }
    this.#draw()
  }

  end(): void {
    this.#picture.end()
    this.#canvas.removeEventListener('contextrestored', this.#again)
  }

  readonly #again = (): void => {
    this.#alone = null
    this.#draw()
  }

  #draw(): void {
    if (!this.#last) return
    const { all, plane, isMany } = this.#last
    const sharp = sharpness()
    const isSame = sized(this.#canvas, plane, sharp)
    const context = this.#canvas.getContext('2d')
    if (!context) return
    context.setTransform(sharp, 0, 0, sharp, 0, 0)
    const [only] = all
    const alone =
      all.length === 1 && !isMany && only?.slice ? { ...only, slice: only.slice, plane, sharp } : null
    const tail = isSame && this.#alone && alone ? tailOf(this.#alone, alone) : null
    this.#alone = alone
    if (tail && alone) {
      const { width, height } = plane
      context.save()
      context.beginPath()
      context.rect(tail.fromX, 0, width - tail.fromX + 1, height + 1)
      context.clip()
      context.clearRect(tail.fromX, 0, width - tail.fromX + 1, height + 1)
      paintLine(context, alone.line, alone.slice, plane, this.#colourOf, tail.start)
      context.restore()
      return
    }
    context.clearRect(0, 0, plane.width, plane.height)
    if (isMany) this.#picture.draw(context, plane)
    for (const { line, slice } of all)
      if (slice && (line.front || !isMany)) paintLine(context, line, slice, plane, this.#colourOf)
  }
}

/** Gives the canvas the size of the plane at the sharpness of the screen, which wipes it clean; true: it had it before. */
function sized(canvas: HTMLCanvasElement, { width, height }: Plane, sharp: number): boolean {
  const [w, h] = [Math.round(width * sharp), Math.round(height * sharp)]
  if (canvas.width === w && canvas.height === h) return true
  canvas.width = w
  canvas.height = h
  return false
}

import { type Plane, paintLine } from './paint.ts'
import { type Drawn, Picture, sharpness } from './picture.ts'

/** So many points are drawn afresh in every frame; of more a picture is made. */
const AT_ONCE = 40_000

/** Draws lines on a canvas: a few afresh each time, very many by way of a picture, and those in front over it. */
export class Painter {
  readonly #canvas: HTMLCanvasElement
  readonly #colourOf: (colour: string) => string
  readonly #picture: Picture
  #last: { readonly all: readonly Drawn[]; readonly plane: Plane; readonly isMany: boolean } | null = null

  constructor(canvas: HTMLCanvasElement, colourOf: (colour: string) => string) {
    this.#canvas = canvas
    this.#colourOf = colourOf
    this.#picture = new Picture(colourOf, () => this.#draw())
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
  }

  #draw(): void {
    if (!this.#last) return
    const { all, plane, isMany } = this.#last
    const context = sized(this.#canvas, plane)
    if (!context) return
    if (isMany) this.#picture.draw(context, plane)
    for (const { line, slice } of all)
      if (slice && (line.front || !isMany)) paintLine(context, line, slice, plane, this.#colourOf)
  }
}

/** The canvas at the size of the plane and the sharpness of the screen, wiped clean. */
function sized(canvas: HTMLCanvasElement, { width, height }: Plane): CanvasRenderingContext2D | null {
  const sharp = sharpness()
  const [w, h] = [Math.round(width * sharp), Math.round(height * sharp)]
  if (canvas.width !== w || canvas.height !== h) {
    canvas.width = w
    canvas.height = h
  }
  const context = canvas.getContext('2d')
  if (!context) return null
  context.setTransform(sharp, 0, 0, sharp, 0, 0)
  context.clearRect(0, 0, width, height)
  return context
}

import { type Plane, paintLine } from './paint.ts'
import type { Slice } from './slices.ts'
import type { CurveLine } from './types.ts'

interface Drawn {
  readonly line: CurveLine
  readonly slice: Slice | null
}

/** So many points are drawn afresh in every frame; more are drawn over several. */
const AT_ONCE = 40_000
/** The share of a frame (16.7 ms) that drawing may take. */
const PAINTING_MS = 5

/** What a picture shows, and where. */
interface Sight {
  readonly lines: readonly Drawn[]
  readonly plane: Plane
}

/**
 * Draws lines on a canvas. A few are drawn afresh each time. Very many would hold up the frame: then the last whole
 * picture is shown, moved and stretched to the view, while the next is drawn beside it, a bit in each frame. One that
 * was begun is finished though the view goes on meanwhile: a long drag would else never see a new one.
 */
export class Painter {
  readonly #canvas: HTMLCanvasElement
  readonly #colourOf: (colour: string) => string
  readonly #again: () => void
  #shown: (Sight & { readonly picture: HTMLCanvasElement }) | null = null
  #making: (Sight & { readonly picture: HTMLCanvasElement; next: number }) | null = null
  /** Of the picture that was shown before: used anew. */
  #spare: HTMLCanvasElement | null = null

  /** `again` is called when another frame is wanted to finish what was begun. */
  constructor(canvas: HTMLCanvasElement, colourOf: (colour: string) => string, again: () => void) {
    this.#canvas = canvas
    this.#colourOf = colourOf
    this.#again = again
  }

  paint(all: readonly Drawn[], plane: Plane): void {
    const context = sized(this.#canvas, plane)
    if (!context) return
    this.#paintBack(context, { lines: all.filter(({ line }) => !line.front), plane })
    for (const { line, slice } of all)
      if (slice && line.front) paintLine(context, line, slice, plane, this.#colourOf)
  }

  #paintBack(context: CanvasRenderingContext2D, sight: Sight): void {
    const { lines, plane } = sight
    const points = lines.reduce((sum, { slice }) => sum + (slice?.points.value.length ?? 0), 0)
    if (points <= AT_ONCE) {
      this.#shown = null
      this.#making = null
      for (const { line, slice } of lines) if (slice) paintLine(context, line, slice, plane, this.#colourOf)
      return
    }
    if (!this.#shown || !isSame(this.#shown, sight)) this.#makeMore(sight)
    if (this.#shown) {
      const { plane: was, picture } = this.#shown
      const perUnit = plane.width / (plane.view.to - plane.view.from)
      const perNewton = plane.height / (plane.highN - plane.lowN)
      context.drawImage(
        picture,
        (was.view.from - plane.view.from) * perUnit,
        (plane.highN - was.highN) * perNewton,
        (was.view.to - was.view.from) * perUnit,
        (was.highN - was.lowN) * perNewton,
      )
    }
  }

  #makeMore(sight: Sight): void {
    // Other lines, or another size: what was begun would be wrong.
    if (this.#making && !isSame(this.#making, { lines: sight.lines, plane: this.#making.plane }))
      this.#making = null
    this.#making ??= { ...sight, picture: this.#spare ?? document.createElement('canvas'), next: 0 }
    const making = this.#making
    const { lines, plane, picture } = making
    const context = making.next === 0 ? sized(picture, plane, SETTLED) : picture.getContext('2d', SETTLED)
    if (!context) return
    const until = performance.now() + PAINTING_MS
    while (making.next < lines.length && performance.now() < until) {
      const { line, slice } = lines[making.next]!
      if (slice) paintLine(context, plainly(line), slice, plane, this.#colourOf)
      // Browsers put drawing off until the canvas is wanted; looking at a pixel has it done now, within the share.
      context.getImageData(0, 0, 1, 1)
      making.next++
    }
    const isDone = making.next >= lines.length
    // Nothing to show yet: what is there so far is better than an empty page.
    if (isDone || !this.#shown) {
      this.#spare = this.#shown && this.#shown.picture !== picture ? this.#shown.picture : null
      this.#shown = isDone ? making : { lines: NOT_ALL, plane, picture }
    }
    if (isDone) this.#making = null
    if (!isDone || !isSame(making, sight)) this.#again()
  }
}

/** A canvas in plain memory, at whose pixels one may look at no cost. */
const SETTLED: CanvasRenderingContext2DSettings = { willReadFrequently: true }

/**
 * Among so many lines no dash can be seen. A line as thin as one pixel of the screen needs no outline, which takes many
 * times as long.
 */
const plainly = (line: CurveLine): CurveLine => ({ ...line, dashes: [], widthPx: 1 / sharpness() })

/** Pixels of the screen in one of the page. */
const sharpness = (): number => globalThis.devicePixelRatio || 1

/** Of a picture that is not finished: it shows no sight wholly. */
const NOT_ALL: readonly Drawn[] = []

/** Whether two sights make the same picture. A slice is never changed, so that it stands for its points. */
const isSame = (a: Sight, b: Sight): boolean =>
  isSamePlane(a.plane, b.plane) &&
  a.lines.length === b.lines.length &&
  a.lines.every(({ line, slice }, i) => {
    const other = b.lines[i]!
    return slice === other.slice && line.colour === other.line.colour && line.widthPx === other.line.widthPx
  })

const isSamePlane = (a: Plane, b: Plane): boolean =>
  a === b ||
  (a.view.from === b.view.from &&
    a.view.to === b.view.to &&
    a.lowN === b.lowN &&
    a.highN === b.highN &&
    a.width === b.width &&
    a.height === b.height)

/** The canvas at the size of the plane and the sharpness of the screen, wiped clean. */
function sized(
  canvas: HTMLCanvasElement,
  { width, height }: Plane,
  settings?: CanvasRenderingContext2DSettings,
): CanvasRenderingContext2D | null {
  const sharp = sharpness()
  const [w, h] = [Math.round(width * sharp), Math.round(height * sharp)]
  if (canvas.width !== w || canvas.height !== h) {
    canvas.width = w
    canvas.height = h
  }
  const context = canvas.getContext('2d', settings)
  if (!context) return null
  context.setTransform(sharp, 0, 0, sharp, 0, 0)
  context.clearRect(0, 0, width, height)
  return context
}

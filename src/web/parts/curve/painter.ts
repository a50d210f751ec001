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
const PAINTING_MS = 7

/**
 * Draws lines on a canvas. A few are drawn afresh each time. Very many would hold up the frame: then the last whole
 * picture is shown, moved and stretched to the view, while the new one is drawn beside it, a bit in each frame.
 */
export class Painter {
  readonly #canvas: HTMLCanvasElement
  readonly #colourOf: (colour: string) => string
  readonly #again: () => void
  #shown: { readonly picture: HTMLCanvasElement; readonly plane: Plane } | null = null
  #making: { readonly picture: HTMLCanvasElement; readonly key: string; next: number } | null = null
  #shownKey = ''

  /** `again` is called when another frame is wanted to finish what was begun. */
  constructor(canvas: HTMLCanvasElement, colourOf: (colour: string) => string, again: () => void) {
    this.#canvas = canvas
    this.#colourOf = colourOf
    this.#again = again
  }

  paint(all: readonly Drawn[], plane: Plane): void {
    const context = sized(this.#canvas, plane)
    if (!context) return
    this.#paintBack(
      context,
      all.filter(({ line }) => !line.front),
      plane,
    )
    for (const { line, slice } of all)
      if (slice && line.front) paintLine(context, line, slice, plane, this.#colourOf)
  }

  #paintBack(context: CanvasRenderingContext2D, lines: readonly Drawn[], plane: Plane): void {
    const points = lines.reduce((sum, { slice }) => sum + (slice?.points.value.length ?? 0), 0)
    if (points <= AT_ONCE) {
      this.#shown = null
      this.#making = null
      this.#shownKey = ''
      for (const { line, slice } of lines) if (slice) paintLine(context, line, slice, plane, this.#colourOf)
      return
    }
    const key = keyOf(lines, plane)
    if (key !== this.#shownKey) this.#makeMore(lines, plane, key)
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

  #makeMore(lines: readonly Drawn[], plane: Plane, key: string): void {
    if (this.#making?.key !== key) this.#making = { picture: document.createElement('canvas'), key, next: 0 }
    const making = this.#making
    const context = making.next === 0 ? sized(making.picture, plane) : making.picture.getContext('2d')
    if (!context) return
    const until = performance.now() + PAINTING_MS
    while (making.next < lines.length && performance.now() < until) {
      const { line, slice } = lines[making.next]!
      if (slice) paintLine(context, line, slice, plane, this.#colourOf)
      making.next++
    }
    // Nothing to show yet: what is there so far is better than an empty page.
    if (making.next >= lines.length || !this.#shown) this.#shown = { picture: making.picture, plane }
    if (making.next >= lines.length) {
      this.#making = null
      this.#shownKey = key
    } else this.#again()
  }
}

/** What a picture depends on: another key, another picture. */
const keyOf = (lines: readonly Drawn[], { view, lowN, highN, width, height }: Plane): string =>
  [
    view.from,
    view.to,
    lowN,
    highN,
    width,
    height,
    ...lines.map(
      ({ line, slice }) =>
        `${line.id} ${line.colour} ${line.widthPx} ${slice?.version} ${slice?.from} ${slice?.to}`,
    ),
  ].join(' ')

/** The canvas at the size of the plane and the sharpness of the screen, wiped clean. */
function sized(canvas: HTMLCanvasElement, { width, height }: Plane): CanvasRenderingContext2D | null {
  const sharp = globalThis.devicePixelRatio || 1
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

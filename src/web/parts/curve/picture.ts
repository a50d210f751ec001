import type { Plane } from './paint.ts'
import { type Raster, rasterLine } from './raster.ts'
import type { Slice } from './slices.ts'
import type { CurveLine } from './types.ts'

export interface Drawn {
  readonly line: CurveLine
  readonly slice: Slice | null
}

/** What a picture shows, and where. */
export interface Sight {
  readonly lines: readonly Drawn[]
  readonly plane: Plane
}

/** The share of a frame (16.7 ms) that making a picture may take. */
const SHARE_MS = 4
/** Among more lines no dash can be seen. */
const MOST_DASHED = 60

/**
 * A picture of so many lines that they would hold up a frame. The last whole one is shown, moved and stretched to the
 * view, while the next is made in memory, a share in each frame. One that was begun is finished though the view goes on
 * meanwhile: a long drag would else never see a new one.
 */
export class Picture {
  readonly #colourOf: (colour: string) => string
  readonly #changed: () => void
  readonly #canvas = document.createElement('canvas')
  readonly #pixelOf = new Map<string, number>()
  #frame = 0
  #wanted: Sight | null = null
  #shown: Sight | null = null
  #making: (Sight & { readonly image: ImageData; readonly raster: Raster; next: number }) | null = null

  /** `changed` is called when there is more to show. */
  constructor(colourOf: (colour: string) => string, changed: () => void) {
    this.#colourOf = colourOf
    this.#changed = changed
  }

  /** Begins to make what is not shown yet. */
  want(sight: Sight): void {
    this.#wanted = sight
    if (this.#frame === 0 && !(this.#shown && isSame(this.#shown, sight))) this.#soon()
  }

  /** What there is, moved to a plane. The context's units are CSS pixels. */
  draw(context: CanvasRenderingContext2D, { view, lowN, highN, width, height }: Plane): void {
    if (!this.#shown) return
    const { plane: was } = this.#shown
    const perUnit = width / (view.to - view.from)
    const perNewton = height / (highN - lowN)
    context.drawImage(
      this.#canvas,
      (was.view.from - view.from) * perUnit,
      (highN - was.highN) * perNewton,
      (was.view.to - was.view.from) * perUnit,
      (was.highN - was.lowN) * perNewton,
    )
  }

  /** Forgets everything, also what was begun. */
  end(): void {
    cancelAnimationFrame(this.#frame)
    this.#frame = 0
    this.#wanted = null
    this.#shown = null
    this.#making = null
  }

  #soon(): void {
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0
      this.#makeMore()
    })
  }

  #makeMore(): void {
    const wanted = this.#wanted
    if (!wanted) return
    // Other lines, or another size: what was begun would be wrong.
    if (!this.#making || !isSame(this.#making, { lines: wanted.lines, plane: this.#making.plane }))
      this.#making = begun(wanted)
    const making = this.#making
    const { lines, plane, image, raster } = making
    const until = performance.now() + SHARE_MS
    const isDashed = lines.length <= MOST_DASHED
    while (making.next < lines.length && performance.now() < until) {
      const { line, slice } = lines[making.next]!
      if (slice)
        rasterLine(raster, slice.points, plane, this.#pixel(line.colour), isDashed ? line.dashes : [])
      making.next++
    }
    const isDone = making.next >= lines.length
    // Nothing to show yet: what is there so far is better than an empty page.
    if (isDone || !this.#shown || this.#shown.lines === NOT_ALL) {
      this.#canvas.width = image.width
      this.#canvas.height = image.height
      this.#canvas.getContext('2d')?.putImageData(image, 0, 0)
      this.#shown = { lines: isDone ? lines : NOT_ALL, plane }
      this.#changed()
    }
    if (isDone) this.#making = null
    if (!isDone || !isSame(making, wanted)) this.#soon()
  }

  /** A colour as one number of a picture in memory. */
  #pixel(colour: string): number {
    const known = this.#pixelOf.get(colour)
    if (known !== undefined) return known
    const context = document.createElement('canvas').getContext('2d')
    if (!context) return 0
    context.fillStyle = this.#colourOf(colour)
    context.fillRect(0, 0, 1, 1)
    const [pixel = 0] = new Uint32Array(context.getImageData(0, 0, 1, 1).data.buffer)
    this.#pixelOf.set(colour, pixel)
    return pixel
  }
}

/** Of a picture that is not finished: it shows no sight wholly. */
const NOT_ALL: readonly Drawn[] = []

/** Pixels of the screen in one of the page. */
export const sharpness = (): number => globalThis.devicePixelRatio || 1

function begun(sight: Sight) {
  const { width, height } = sight.plane
  const image = new ImageData(
    Math.max(1, Math.round(width * sharpness())),
    Math.max(1, Math.round(height * sharpness())),
  )
  const pixels = new Uint32Array(image.data.buffer)
  return { ...sight, image, raster: { width: image.width, height: image.height, pixels }, next: 0 }
}

/** Whether two sights make the same picture. A slice is never changed, so that it stands for its points. */
const isSame = (a: Sight, b: Sight): boolean =>
  isSamePlane(a.plane, b.plane) &&
  a.lines.length === b.lines.length &&
  a.lines.every(({ line, slice }, i) => {
    const other = b.lines[i]!
    return slice === other.slice && line.colour === other.line.colour
  })

const isSamePlane = (a: Plane, b: Plane): boolean =>
  a === b ||
  (a.view.from === b.view.from &&
    a.view.to === b.view.to &&
    a.lowN === b.lowN &&
    a.highN === b.highN &&
    a.width === b.width &&
    a.height === b.height)

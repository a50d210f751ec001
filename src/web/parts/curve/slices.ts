import type { Thinned } from '../../../core/signal/pyramid.ts'
import type { CurveLine } from './types.ts'
import type { View } from './view.ts'

/** A slice that is there, and what it is good for. */
export interface Slice extends View {
  readonly version: CurveLine['version']
  readonly perPixel: number
  readonly points: Thinned
  readonly leastN: number
  readonly greatestN: number
}

interface Kept {
  line: CurveLine
  /** The whole line, coarse: always there to fall back on. */
  whole: Slice | null
  /** The view and as much again on either side. */
  close: Slice | null
  asking: boolean
}

/** A slice still serves while it is no coarser than this beside what is wanted. */
const COARSE = 1.5
const FINE = 1 / 4
/** A slice reaches this many views to either side, so that panning finds it there. */
const BESIDE = 1
/** Lines that answer at once are asked for so long in one go; the rest wait for the next frame. */
const ASKING_MS = 4

/**
 * Keeps the slices of a curve's lines. Asks for what a view needs, one question a line at a time, and always the
 * latest; until it is there, what was there before is drawn. `changed` is called when something new has come, or
 * when there was no time for all lines.
 */
export class Slices {
  #lines: readonly CurveLine[] = []
  #kept: Kept[] = []
  #whole: View = { from: 0, to: 1 }
  #view: View = { from: 0, to: 1 }
  #pixels = 0
  #ended = false
  readonly #changed: () => void

  constructor(changed: () => void) {
    this.#changed = changed
  }

  /** What is to be seen now. Slices that are wanting are asked for; those that come at once are there on return. */
  want(lines: readonly CurveLine[], whole: View, view: View, pixels: number): void {
    if (lines !== this.#lines) this.#keep(lines)
    this.#whole = whole
    this.#view = view
    this.#pixels = pixels
    if (!(pixels >= 1)) return
    const until = performance.now() + ASKING_MS
    for (const [i, kept] of this.#kept.entries()) {
      if (this.#look(kept) && i + 1 < this.#kept.length && performance.now() > until) {
        queueMicrotask(this.#changed)
        return
      }
    }
  }

  #keep(lines: readonly CurveLine[]): void {
    const known = new Map(this.#kept.map(kept => [kept.line.id, kept]))
    this.#lines = lines
    this.#kept = lines.map(line => {
      const kept = known.get(line.id) ?? { line, whole: null, close: null, asking: false }
      kept.line = line
      return kept
    })
  }

  /** The best there is of each line for a view, in the order of the lines. */
  best(view: View): { readonly line: CurveLine; readonly slice: Slice | null }[] {
    return this.#kept.map(({ line, whole, close }) => ({
      line,
      slice: close && covers(close, view) && (!whole || close.perPixel < whole.perPixel) ? close : whole,
    }))
  }

  /** Least and greatest force of all lines as a whole; `null` while nothing is there. */
  range(): [number, number] | null {
    let least = Number.POSITIVE_INFINITY
    let greatest = Number.NEGATIVE_INFINITY
    for (const { whole } of this.#kept) {
      if (!whole) continue
      least = Math.min(least, whole.leastN)
      greatest = Math.max(greatest, whole.greatestN)
    }
    return greatest >= least ? [least, greatest] : null
  }

  end(): void {
    this.#ended = true
  }

  /**
   * Only one question of a line is on its way; when it is answered the line is looked at again. Tells whether anything
   * was asked.
   */
  #look(kept: Kept): boolean {
    let asked = 0
    for (; asked < 2 && !kept.asking; asked++) {
      const wanted = this.#wanted(kept)
      if (!wanted) break
      this.#ask(kept, wanted)
    }
    return asked > 0
  }

  #wanted({ line, whole, close }: Kept): (View & { pixels: number; as: 'whole' | 'close' }) | null {
    const all = this.#whole
    if (line.isComplete && whole?.version === line.version) return null
    const perPixel = (this.#view.to - this.#view.from) / this.#pixels
    const wholePerPixel = (all.to - all.from) / this.#pixels
    const wholeServes =
      whole !== null &&
      whole.version === line.version &&
      whole.from === all.from &&
      whole.to === all.to &&
      whole.perPixel <= COARSE * wholePerPixel
    if (!wholeServes) return { ...all, pixels: this.#pixels, as: 'whole' }
    if (whole.perPixel <= COARSE * perPixel) return null
    const closeServes =
      close !== null &&
      close.version === line.version &&
      covers(close, this.#view) &&
      close.perPixel <= COARSE * perPixel &&
      close.perPixel >= FINE * perPixel
    if (closeServes) return null
    const span = this.#view.to - this.#view.from
    const from = Math.max(all.from, this.#view.from - BESIDE * span)
    const to = Math.min(all.to, this.#view.to + BESIDE * span)
    return { from, to, pixels: Math.ceil((to - from) / perPixel), as: 'close' }
  }

  #ask(kept: Kept, { from, to, pixels, as }: View & { pixels: number; as: 'whole' | 'close' }): void {
    const { line } = kept
    const take = (points: Thinned): void => {
      kept[as] = {
        from,
        to,
        version: line.version,
        perPixel: (to - from) / pixels,
        points,
        ...rangeOf(points),
      }
      // A closer look at what the line was before would stand beside what it is now.
      if (as === 'whole' && kept.close?.version !== line.version) kept.close = null
    }
    const answer = line.slice(from, to, pixels)
    if (!(answer instanceof Promise)) {
      take(answer)
      return
    }
    kept.asking = true
    answer.then(
      points => {
        kept.asking = false
        if (this.#ended) return
        take(points)
        this.#changed()
        this.#look(kept)
      },
      () => {
        // What failed is asked again with the next view; the reading itself says what is wrong.
        kept.asking = false
      },
    )
  }
}

const covers = (slice: View, view: View): boolean => slice.from <= view.from && slice.to >= view.to

function rangeOf({ value }: Thinned): { leastN: number; greatestN: number } {
  let leastN = Number.POSITIVE_INFINITY
  let greatestN = Number.NEGATIVE_INFINITY
  for (let i = 0; i < value.length; i++) {
    const v = value[i]!
    if (v < leastN) leastN = v
    if (v > greatestN) greatestN = v
  }
  return { leastN, greatestN }
}

import type { StretchKind } from '../../core/reading/states.ts'
import type { Shape } from './shapes.ts'

export interface WeavePlace {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
  /** Distance from thread to thread. */
  readonly step: number
  /** The threads stand still while a stretch grows: they are counted from here. */
  readonly fromX: number
  readonly colour: string
  readonly thread: number
}

/**
 * The woven pattern of a stretch: dots at rest, hatched on hold, hatched back on unload, crossed on re-grip,
 * else plain.
 */
export function weave(kind: StretchKind, place: WeavePlace): Shape[] {
  switch (kind) {
    case 'rest':
      return [{ kind: 'dots', points: dots(place), radius: 0.75 * place.thread, colour: place.colour }]
    case 'hold':
      return [threads(place, [1])]
    case 'unload':
      return [threads(place, [-1])]
    case 'regrip':
      return [threads(place, [1, -1])]
    case 'loading':
    case 'gap':
      return []
  }
}

function dots({ x, y, width, height, step, fromX, thread }: WeavePlace): number[] {
  const points: number[] = []
  const rows = Math.max(1, Math.floor(height / step))
  for (let row = 0; row < rows; row++) {
    const atY = y + ((row + 0.5) * height) / rows
    const first = Math.ceil((x + thread - fromX) / step)
    for (let k = first; fromX + k * step <= x + width - thread; k++) points.push(fromX + k * step, atY)
  }
  return points
}

/** Slanted lines (1 rises to the right, −1 falls), cut at the edges of the place. */
function threads(place: WeavePlace, slants: readonly (1 | -1)[]): Shape {
  const { x, y, width, height, step, fromX, colour, thread } = place
  const points: number[] = []
  for (const slant of slants) {
    const first = Math.floor((x - height - fromX) / step)
    for (let k = first; fromX + k * step < x + width; k++) {
      // The line from (left, lower edge) to (left + height, upper edge), or the same upside down.
      const left = fromX + k * step
      const from = Math.max(left, x)
      const to = Math.min(left + height, x + width)
      if (to <= from) continue
      const yAt = (atX: number) => (slant === 1 ? y + height - (atX - left) : y + (atX - left))
      points.push(from, yAt(from), to, yAt(to), Number.NaN, Number.NaN)
    }
  }
  return { kind: 'stroke', points, width: thread, colour, dashes: [] }
}

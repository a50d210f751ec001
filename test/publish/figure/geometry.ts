import { textWidth } from '../../../src/publish/figure/textWidth.ts'
import { type SvgElement, svgTree } from '../../../src/publish/node/pdf/svgTree.ts'

/** A word in a figure and the room that it takes. */
export interface Box {
  readonly text: string
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
  /** Its place in the order of drawing. */
  readonly order: number
  /** Paper around the letters, so that what lies under them does not touch them. */
  readonly hasRim: boolean
}

interface Inherited {
  readonly size: number
  readonly anchor: string
  readonly dx: number
  readonly dy: number
}

/** Every text of a figure with its room: letters reach three quarters of their size above the line and a fifth below. */
export function textBoxes(svg: string): { boxes: Box[]; frame: Box } {
  const root = svgTree(svg)
  const [left, top, width, height] = root.given.viewBox!.split(' ').map(Number) as [
    number,
    number,
    number,
    number,
  ]
  const boxes: Box[] = []
  let order = 0
  const walk = (element: SvgElement, from: Inherited): void => {
    const { given } = element
    const place = order++
    const moved = /translate\(([-\d.]+)[ ,]([-\d.]+)\)/.exec(given.transform ?? '')
    const own: Inherited = {
      size: Number(given['font-size'] ?? from.size),
      anchor: given['text-anchor'] ?? from.anchor,
      dx: from.dx + Number(moved?.[1] ?? 0),
      dy: from.dy + Number(moved?.[2] ?? 0),
    }
    if (element.name === 'text') {
      const x = own.dx + Number(given.x)
      const y = own.dy + Number(given.y)
      const wide = textWidth(element.text, own.size)
      const start = own.anchor === 'end' ? x - wide : own.anchor === 'middle' ? x - wide / 2 : x
      boxes.push({
        text: element.text,
        left: start,
        right: start + wide,
        top: y - 0.75 * own.size,
        bottom: y + 0.2 * own.size,
        order: place,
        hasRim: given['paint-order'] === 'stroke',
      })
    }
    for (const child of element.children) walk(child, own)
  }
  walk(root, { size: 12, anchor: 'start', dx: 0, dy: 0 })
  return {
    boxes,
    frame: { text: '', left, top, right: left + width, bottom: top + height, order: 0, hasRim: false },
  }
}

/** What a figure's words do wrong: run out of the frame, or lie over one another. */
export function wordFaults(svg: string): string[] {
  const { boxes, frame } = textBoxes(svg)
  const out = boxes.filter(
    b => b.left < frame.left || b.right > frame.right || b.top < frame.top || b.bottom > frame.bottom,
  )
  const over = boxes.flatMap((a, i) =>
    boxes
      .slice(i + 1)
      .filter(b => overlap(a, b))
      .map(b => `“${a.text}” lies over “${b.text}”`),
  )
  return [...out.map(({ text }) => `“${text}” runs out of the frame`), ...over]
}

/** A hair of the side bearings may touch. */
const HAIR_PX = 1

const overlap = (a: Box, b: Box): boolean =>
  a.left < b.right - HAIR_PX &&
  b.left < a.right - HAIR_PX &&
  a.top < b.bottom - HAIR_PX &&
  b.top < a.bottom - HAIR_PX

interface AxisLabel {
  readonly value: number
  readonly at: number
  readonly text: string
}

const numberIn = (text: string): number | null => {
  const plain = /^−?\d+(?:\.\d+)?(?: %)?$/.test(text) ? text.replace('−', '-').replace(' %', '') : null
  return plain === null ? null : Number(plain)
}

/** How the values of an axis lie along it, evenly. */
const EVENLY: Readonly<Record<string, (value: number) => number>> = {
  linear: value => value,
  log: Math.log,
  // Shares broken in per cent, on the scale on which a Weibull distribution is straight.
  weibull: value => Math.log(-Math.log(1 - value / 100)),
}

/** The labels of each axis with what they read and where they stand. */
function axesOf(svg: string): Map<string, AxisLabel[]> {
  const axes = new Map<string, AxisLabel[]>()
  let ownAxes = 0
  const walk = (element: SvgElement, dx: number, dy: number): void => {
    const moved = /translate\(([-\d.]+)[ ,]([-\d.]+)\)/.exec(element.given.transform ?? '')
    const [x, y] = [dx + Number(moved?.[1] ?? 0), dy + Number(moved?.[2] ?? 0)]
    const axis = element.given['data-axis']
    if (axis === undefined) {
      for (const child of element.children) walk(child, x, y)
      return
    }
    const labels = element.children.filter(({ name }) => name === 'text')
    // An axis is one group, or a group for each of its ticks.
    const scale = element.given['data-scale'] ?? 'linear'
    const key = labels.length > 1 ? `${axis} ${scale} ${ownAxes++}` : `${axis} ${scale} ticks`
    const told = labels.flatMap(({ text, given }): AxisLabel[] => {
      const value = numberIn(text)
      return value === null
        ? []
        : [{ value, text, at: axis === 'x' ? x + Number(given.x) : y + Number(given.y) }]
    })
    axes.set(key, [...(axes.get(key) ?? []), ...told])
  }
  walk(svgTree(svg), 0, 0)
  return axes
}

/** A label moved in from the edge of the frame stands no more than this beside its tick. */
const MOVED_PX = 12

/**
 * What the axes of a figure say wrong: labels that do not stand where their own figures lie. The scale is not asked: it
 * is drawn through the first and the last label that cannot have been moved, and every other must lie on it.
 */
export function axisFaults(svg: string): string[] {
  return [...axesOf(svg)].flatMap(([key, labels]) => {
    const evenly = EVENLY[key.split(' ')[1]!]!
    if (labels.length < 2) return [`axis ${key} has ${labels.length} labels`]
    // The outer ones of an axis below a plot may have been moved in from the edge of the frame.
    const through = key.startsWith('x') && labels.length >= 4 ? labels.slice(1, -1) : labels
    const [first, last] = [through[0]!, through.at(-1)!]
    const perPx = (evenly(last.value) - evenly(first.value)) / (last.at - first.at)
    if (!Number.isFinite(perPx) || perPx === 0) return [`axis ${key} says the same twice`]
    return labels.flatMap(({ value, at, text }) => {
      const beside = Math.abs(first.at + (evenly(value) - evenly(first.value)) / perPx - at)
      const allowed = through.some(one => one.text === text) ? 0.75 : MOVED_PX
      return beside <= allowed ? [] : [`“${text}” stands ${beside.toFixed(1)} px from where it belongs`]
    })
  })
}

type Point = readonly [x: number, y: number]

/** Every stroke of a figure as straight pieces, with its place in the order of drawing. */
function strokesOf(svg: string): { readonly from: Point; readonly to: Point; readonly order: number }[] {
  const strokes: { from: Point; to: Point; order: number }[] = []
  let order = 0
  const walk = (element: SvgElement, dx: number, dy: number): void => {
    const { name, given } = element
    const own = order++
    if (name === 'defs' || name === 'clipPath' || given['clip-path'] !== undefined) return
    const moved = /translate\(([-\d.]+)[ ,]([-\d.]+)\)/.exec(given.transform ?? '')
    const [x, y] = [dx + Number(moved?.[1] ?? 0), dy + Number(moved?.[2] ?? 0)]
    const points: Point[] =
      name === 'line'
        ? [
            [Number(given.x1), Number(given.y1)],
            [Number(given.x2), Number(given.y2)],
          ]
        : name === 'polyline'
          ? (given.points ?? '').split(' ').map(pair => pair.split(',').map(Number) as [number, number])
          : name === 'path'
            ? [...(given.d ?? '').matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, a, b]) => [
                Number(a),
                Number(b),
              ])
            : []
    for (let i = 1; i < points.length; i++)
      strokes.push({
        from: [points[i - 1]![0] + x, points[i - 1]![1] + y],
        to: [points[i]![0] + x, points[i]![1] + y],
        order: own,
      })
    for (const child of element.children) walk(child, x, y)
  }
  walk(svgTree(svg), 0, 0)
  return strokes
}

/** Whether a straight piece passes through a box (Liang and Barsky's clipping). */
function passes(from: Point, to: Point, box: Box): boolean {
  let [enters, leaves] = [0, 1]
  for (const [start, way, low, high] of [
    [from[0], to[0] - from[0], box.left, box.right],
    [from[1], to[1] - from[1], box.top, box.bottom],
  ] as const) {
    if (way === 0) {
      if (start < low || start > high) return false
      continue
    }
    const [near, far] = [(low - start) / way, (high - start) / way].sort((p, q) => p - q) as [number, number]
    enters = Math.max(enters, near)
    leaves = Math.min(leaves, far)
  }
  return enters < leaves
}

/** Words that a line runs over, or under without a rim of paper between. */
export function lineFaults(svg: string): string[] {
  const strokes = strokesOf(svg)
  const { boxes } = textBoxes(svg)
  return boxes.flatMap(box => {
    const seen = {
      ...box,
      left: box.left + 1,
      right: box.right - 1,
      top: box.top + 2,
      bottom: box.bottom - 2,
    }
    const over = strokes.some(
      ({ from, to, order }) => passes(from, to, seen) && (order > box.order || !box.hasRim),
    )
    return over ? [`a line runs through “${box.text}”`] : []
  })
}

import { px, type Svg, tag } from './svg.ts'

export interface MarkOptions {
  readonly colour: string
  readonly paper: string
  /** Filled for a measured value, open for one that was only reached. */
  readonly open: boolean
  readonly size?: number
}

/** One mark for each failure mode in turn: disc, square, triangle, diamond, then again. */
export function modeMark(
  mode: number,
  x: number,
  y: number,
  { colour, paper, open, size = 5 }: MarkOptions,
): Svg {
  const look = { fill: open ? paper : colour, stroke: colour, 'stroke-width': 1.5 }
  const path = (points: readonly (readonly [number, number])[]): Svg =>
    tag('polygon', {
      points: points.map(([dx, dy]) => `${px(x + dx * size)},${px(y + dy * size)}`).join(' '),
      ...look,
    })
  switch (mode % 4) {
    case 1:
      return path([
        [-0.9, -0.9],
        [0.9, -0.9],
        [0.9, 0.9],
        [-0.9, 0.9],
      ])
    case 2:
      return path([
        [0, -1.15],
        [1.05, 0.85],
        [-1.05, 0.85],
      ])
    case 3:
      return path([
        [0, -1.25],
        [1.25, 0],
        [0, 1.25],
        [-1.25, 0],
      ])
    default:
      return tag('circle', { cx: x, cy: y, r: size, ...look })
  }
}

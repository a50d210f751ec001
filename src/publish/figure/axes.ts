import { type ScaleLinear, scaleLinear } from 'd3-scale'
import { axisText } from './axisText.ts'
import type { Look } from './look.ts'
import { line, type Svg, tag, words } from './svg.ts'
import { textWidth } from './textWidth.ts'

export interface AxisOptions {
  readonly look: Look
  /** What is measured, with its unit: `time, s`. */
  readonly label: string
  readonly ticks?: number
  /** Rule lines across the plot, this long. */
  readonly ruleLength?: number
  /** Width of the figure: figures at the ends of an axis are moved in rather than cut. */
  readonly frameWidth?: number
}

type Linear = ScaleLinear<number, number>

/** Height of an axis under a plot, from its line to under its label. */
export const bottomAxisPx = ({ size }: Look): number => Math.round(10 + 2.4 * size.small)

/** Ticks that have room along a scale, their figures not over one another. */
function ticksIn(scale: Linear, { size: { small } }: Look, most: number): number {
  const [from = 0, to = 0] = scale.range()
  const widest = Math.max(...scale.ticks(most).map(value => textWidth(axisText(value), small)))
  return Math.max(2, Math.min(most, Math.floor((to - from) / Math.max(5 * small, widest + 2 * small))))
}

/** Axis under a plot, its line at height `y`. The label stands at the right end, below the figures. */
export function bottomAxis(
  scale: Linear,
  y: number,
  { look, label, ticks: most = 8, frameWidth }: AxisOptions,
): Svg {
  const [from = 0, to = 0] = scale.range()
  const ticks = ticksIn(scale, look, most)
  const { small } = look.size
  return tag(
    'g',
    { 'font-size': look.size.small, fill: look.pencil, 'aria-hidden': 'true', 'data-axis': 'x' },
    line(from, y, to, y, { stroke: look.pencil }),
    ...scale.ticks(ticks).flatMap(value => [
      line(scale(value), y, scale(value), y + 5, { stroke: look.pencil }),
      words(
        within(scale(value), textWidth(axisText(value), small), frameWidth),
        y + 6 + small,
        axisText(value),
        {
          'text-anchor': 'middle',
        },
      ),
    ]),
    words(to, y + bottomAxisPx(look) - 5, label, { 'text-anchor': 'end' }),
  )
}

const within = (x: number, width: number, frameWidth: number | undefined): number =>
  frameWidth === undefined ? x : Math.max(width / 2 + 2, Math.min(frameWidth - width / 2 - 2, x))

/** Room that the figures of an axis at the left of a plot take for values of this range. */
export function sideRoomPx([low, high]: readonly [number, number], { size }: Look): number {
  const ticks = scaleLinear([low, high], [0, 1]).nice().ticks(6)
  return Math.max(...ticks.map(value => textWidth(axisText(value), size.small))) + 12
}

const EDGE_PX = 12

/** A label wider than the room beside the plot begins at the figure's edge and runs on over the plot. */
const runsOn = (label: string, x: number, { size }: Look): boolean => textWidth(label, size.small) > x - 12

/** How far the label of an axis at the left reaches; `x` is where its line stands. */
export const sideLabelEnd = (label: string, x: number, look: Look): number =>
  runsOn(label, x, look) ? EDGE_PX + textWidth(label, look.size.small) + EDGE_PX : x - EDGE_PX

/** Axis at the left (or right) of a plot, its line at `x`. The label stands above its upper end. */
export function sideAxis(
  scale: Linear,
  x: number,
  {
    look,
    label,
    ticks: most = 6,
    ruleLength = 0,
    side = 'left',
  }: AxisOptions & { readonly side?: 'left' | 'right' },
): Svg {
  const [bottom = 0, top = 0] = scale.range()
  const ticks = Math.max(2, Math.min(most, Math.floor((bottom - top) / (2.4 * look.size.small))))
  const out = side === 'left' ? -1 : 1
  const anchor = side === 'left' ? 'end' : 'start'
  return tag(
    'g',
    { 'font-size': look.size.small, fill: look.pencil, 'aria-hidden': 'true', 'data-axis': 'y' },
    ...scale
      .ticks(ticks)
      .flatMap(value => [
        ruleLength > 0 ? line(x, scale(value), x + ruleLength, scale(value), { stroke: look.rule }) : null,
        words(x + out * 8, scale(value) + look.size.small / 3, axisText(value), { 'text-anchor': anchor }),
      ]),
    side === 'left' && runsOn(label, x, look)
      ? words(EDGE_PX, top - look.size.small, label)
      : words(x + out * 8, top - look.size.small, label, { 'text-anchor': anchor }),
  )
}

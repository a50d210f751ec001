import type { ScaleLinear } from 'd3-scale'
import type { Look } from './look.ts'
import { SIZE } from './look.ts'
import { line, type Svg, tag, words } from './svg.ts'

export interface AxisOptions {
  readonly look: Look
  /** What is measured, with its unit: `time, s`. */
  readonly label: string
  readonly ticks?: number
  /** Rule lines across the plot, this long. */
  readonly ruleLength?: number
}

type Linear = ScaleLinear<number, number>

const tickText = (scale: Linear, ticks: number) => {
  const format = scale.tickFormat(ticks)
  return (value: number) => format(value).replace('-', '−')
}

/** Axis under a plot, its line at height `y`. The label stands at the right end, below the figures. */
export function bottomAxis(scale: Linear, y: number, { look, label, ticks = 8 }: AxisOptions): Svg {
  const [from = 0, to = 0] = scale.range()
  const text = tickText(scale, ticks)
  return tag(
    'g',
    { 'font-size': SIZE.small, fill: look.pencil, 'aria-hidden': 'true' },
    line(from, y, to, y, { stroke: look.pencil }),
    ...scale
      .ticks(ticks)
      .flatMap(value => [
        line(scale(value), y, scale(value), y + 5, { stroke: look.pencil }),
        words(scale(value), y + 18, text(value), { 'text-anchor': 'middle' }),
      ]),
    words(to, y + 34, label, { 'text-anchor': 'end' }),
  )
}

/** Axis at the left (or right) of a plot, its line at `x`. The label stands above its upper end. */
export function sideAxis(
  scale: Linear,
  x: number,
  {
    look,
    label,
    ticks = 6,
    ruleLength = 0,
    side = 'left',
  }: AxisOptions & { readonly side?: 'left' | 'right' },
): Svg {
  const [, top = 0] = scale.range()
  const text = tickText(scale, ticks)
  const out = side === 'left' ? -1 : 1
  const anchor = side === 'left' ? 'end' : 'start'
  return tag(
    'g',
    { 'font-size': SIZE.small, fill: look.pencil, 'aria-hidden': 'true' },
    ...scale
      .ticks(ticks)
      .flatMap(value => [
        ruleLength > 0 ? line(x, scale(value), x + ruleLength, scale(value), { stroke: look.rule }) : null,
        words(x + out * 8, scale(value) + 4, text(value), { 'text-anchor': anchor }),
      ]),
    words(x + out * 8, top - 14, label, { 'text-anchor': anchor }),
  )
}

import type { ScaleLinear, ScaleLogarithmic } from 'd3-scale'
import { stretch } from '../../core/statistics/group/plotPositions.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import { axisText } from './axisText.ts'
import type { Look } from './look.ts'
import { line, type Svg, tag, words } from './svg.ts'
import { textWidth } from './textWidth.ts'

export type X = ScaleLogarithmic<number, number>
export type Y = ScaleLinear<number, number>

/** Shares broken that are written at the axis; 63.2 % is where the scale is read. */
const SHARES = [0.01, 0.02, 0.05, 0.1, 0.2, 0.4, 0.632, 0.8, 0.9, 0.99]

/** Shares whose figures have room over one another. */
export function sharesIn(y: Y, small: number): number[] {
  const kept: number[] = []
  // The share at which the scale is read comes first, then the ends.
  for (const share of [0.632, 0.01, 0.99, ...SHARES])
    if (kept.every(other => Math.abs(y(stretch(other)) - y(stretch(share))) >= 1.3 * small)) kept.push(share)
  return kept
}

/** Values at the axis whose figures have room beside one another. */
export function valuesIn(x: X, { size }: Look): number[] {
  const kept: number[] = []
  for (const value of x.ticks(8)) {
    const last = kept.at(-1)
    const room = textWidth(axisText(value), size.small) + 0.7 * size.small
    if (last === undefined || x(value) - x(last) >= room) kept.push(value)
  }
  return kept
}

export function shareTick(p: number, y: Y, plot: { left: number; right: number }, look: Look): Svg {
  const at = y(stretch(p))
  const main = p === 0.632
  return tag(
    'g',
    { 'data-axis': 'y', 'data-scale': 'weibull' },
    line(plot.left, at, plot.right, at, {
      stroke: main ? look.faint : look.rule,
      'stroke-dasharray': main ? '2 3' : undefined,
    }),
    words(plot.left - 8, at + look.size.small / 3, `${plainNumber(p * 100, main ? 1 : 0)} %`, {
      'text-anchor': 'end',
      'font-size': look.size.small,
      fill: look.pencil,
    }),
  )
}

export const valueTick = (v: number, x: X, plot: { top: number; bottom: number }, look: Look): Svg =>
  tag(
    'g',
    { 'data-axis': 'x', 'data-scale': 'log' },
    line(x(v), plot.top, x(v), plot.bottom, { stroke: look.rule }),
    words(x(v), plot.bottom + 6 + look.size.small, axisText(v), {
      'text-anchor': 'middle',
      'font-size': look.size.small,
      fill: look.pencil,
    }),
  )

import { scaleLinear } from 'd3-scale'
import { percent } from '../../core/statistics/compare/words.ts'
import type { Plan } from '../../core/statistics/plan/document.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import { bottomAxis } from './axes.ts'
import { headLines } from './headLines.ts'
import { LIGHT, type Look } from './look.ts'
import { line, px, svgDocument, tag, words } from './svg.ts'

const MARGIN = { left: 84, right: 60, bottom: 72 } as const

/** Chance of showing what was asked against the number of each variant, with the number planned marked. */
export function powerFigure(
  plan: Plan,
  { look = LIGHT, width = 960 }: { look?: Look; width?: number } = {},
): string {
  const height = 560
  const head = headLines(plan.because, { x: 24, y: 40, width: width - 48, look })
  const plot = {
    left: MARGIN.left,
    right: width - MARGIN.right,
    top: 56 + head.height,
    bottom: height - MARGIN.bottom,
  }
  const curve = plan.powerCurve
  const x = scaleLinear([2, Math.max(4, curve.at(-1)?.perGroup ?? 4)], [plot.left, plot.right])
  const y = scaleLinear([0, 1], [plot.bottom, plot.top])
  const planned = curve.find(p => p.perGroup === plan.perGroup)
  const label = planned ? `${plan.perGroup} of each: ${percent(planned.power)}` : ''
  return svgDocument(
    {
      width,
      height,
      title: 'Chance of showing it against the number of specimens',
      description: `${curve
        .filter((_, i) => i % Math.ceil(curve.length / 10) === 0)
        .map(p => `${p.perGroup} of each: ${percent(p.power)}`)
        .join('; ')}. ${plan.because}`,
      look,
    },
    head.svg,
    ...[0, 0.2, 0.4, 0.6, 0.8, 1].map(p =>
      tag(
        'g',
        { 'data-axis': 'y' },
        line(plot.left, y(p), plot.right, y(p), { stroke: look.rule }),
        words(plot.left - 8, y(p) + 4, `${plainNumber(p * 100, 0)} %`, {
          'text-anchor': 'end',
          'font-size': look.size.small,
          fill: look.pencil,
        }),
      ),
    ),
    bottomAxis(x, plot.bottom, { look, label: 'specimens of each variant' }),
    tag('polyline', {
      points: curve.map(p => `${px(x(p.perGroup))},${px(y(p.power))}`).join(' '),
      fill: 'none',
      stroke: look.accent,
      'stroke-width': 2,
    }),
    ...(curve.length <= 60
      ? curve.map(p => tag('circle', { cx: x(p.perGroup), cy: y(p.power), r: 3, fill: look.accent }))
      : []),
    ...(planned
      ? [
          line(x(planned.perGroup), y(planned.power), x(planned.perGroup), plot.bottom, {
            stroke: look.ink,
            'stroke-dasharray': '2 3',
          }),
          tag('circle', {
            cx: x(planned.perGroup),
            cy: y(planned.power),
            r: 6,
            fill: look.paper,
            stroke: look.ink,
            'stroke-width': 2,
          }),
          // Below and to the right of a curve that only rises there is always room.
          words(x(planned.perGroup) + 12, y(planned.power) + 26, label, { 'font-weight': 700 }),
        ]
      : []),
  )
}

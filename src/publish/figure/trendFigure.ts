import { scaleLinear } from 'd3-scale'
import { answerIn } from '../../core/answer/answerOf.ts'
import { saysPractice } from '../../core/reading/practice.ts'
import { numberIn } from '../../core/statistics/compare/factor.ts'
import { quantityWords } from '../../core/statistics/compare/quantity.ts'
import { type Scale, withUnit } from '../../core/statistics/compare/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import { bottomAxis } from './axes.ts'
import { axisText } from './axisText.ts'
import { headLines } from './headLines.ts'
import { LIGHT, type Look } from './look.ts'
import { line, px, svgDocument, tag, words } from './svg.ts'

const MARGIN = { left: 84, right: 40, bottom: 72 } as const

/**
 * Values over the number in the groups' names: every specimen a point, the curve of their mean and the band that holds all of it 95
 * times in 100. `null` where the groups do not differ by a number.
 */
export function trendFigure(
  comparison: Comparison,
  { shown = null, look = LIGHT, width = 960 }: { shown?: Scale['shown']; look?: Look; width?: number } = {},
): string | null {
  const { factor } = comparison
  const curve = factor?.curve
  if (!factor || !curve) return null
  const height = 560
  const per = shown?.per ?? 1
  const unit = shown?.unit ?? comparison.unit
  const points = comparison.specimens.flatMap(({ group, name, value, dropped }) =>
    value === null || dropped !== null ? [] : [{ name, at: numberIn(group)!.at, value: value / per }],
  )
  const head = headLines(answerIn(comparison).headline, { x: 24, y: 40, width: width - 48, look })
  const plot = {
    left: MARGIN.left,
    right: width - MARGIN.right,
    top: 56 + head.height,
    bottom: height - MARGIN.bottom,
  }
  const ats = points.map(p => p.at)
  const x = scaleLinear([Math.min(...ats), Math.max(...ats)], [plot.left + 12, plot.right - 12])
  const values = [...points.map(p => p.value), ...curve.points.flatMap(p => [p.low / per, p.high / per])]
  const y = scaleLinear([Math.min(...values), Math.max(...values)], [plot.bottom, plot.top]).nice()
  const along = (of: 'low' | 'value' | 'high'): string[] =>
    curve.points.map(p => `${px(x(p.at))},${px(y(p[of] / per))}`)
  const noun = quantityWords(comparison.quantity).noun
  return svgDocument(
    {
      width,
      height,
      title: `${noun} over the number in the names`,
      description: `${curve.points
        .filter((_, i) => i % 8 === 0)
        .map(
          p =>
            `at ${withUnit(threeDigits(p.at), factor.unit)}: ${withUnit(threeDigits(p.value / per), unit)}, between ${threeDigits(p.low / per)} and ${threeDigits(p.high / per)}`,
        )
        .join('; ')}. ${comparison.verdict}`,
      look,
      practice: saysPractice(comparison),
    },
    head.svg,
    ...y.ticks(5).map(value =>
      tag(
        'g',
        { 'data-axis': 'y' },
        line(plot.left, y(value), plot.right, y(value), { stroke: look.rule }),
        words(plot.left - 8, y(value) + 4, axisText(value), {
          'text-anchor': 'end',
          'font-size': look.size.small,
          fill: look.pencil,
        }),
      ),
    ),
    words(plot.left, plot.top - 10, unit === '' ? noun : `${noun}, ${unit}`, {
      'font-size': look.size.small,
      fill: look.pencil,
    }),
    bottomAxis(x, plot.bottom, {
      look,
      label: factor.unit === '' ? 'number in the name' : `number in the name, ${factor.unit}`,
    }),
    tag('polygon', {
      points: [...along('low'), ...along('high').reverse()].join(' '),
      fill: look.accent,
      'fill-opacity': 0.15,
    }),
    tag('polyline', {
      points: along('value').join(' '),
      fill: 'none',
      stroke: look.accent,
      'stroke-width': 2,
    }),
    ...points.map(p =>
      tag('circle', {
        cx: x(p.at),
        cy: y(p.value),
        r: 4,
        fill: look.paper,
        stroke: look.ink,
        'stroke-width': 1.5,
      }),
    ),
  )
}

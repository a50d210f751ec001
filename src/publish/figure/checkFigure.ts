import { scaleLinear } from 'd3-scale'
import type { CheckChart } from '../../core/calibration/checkChart.ts'
import type { Check } from '../../core/calibration/checkDocument.ts'
import { errorPctOf } from '../../core/calibration/judgeCheck.ts'
import { sideAxis } from './axes.ts'
import { apart } from './headLines.ts'
import { LIGHT, type Look } from './look.ts'
import { isNarrow } from './shape.ts'
import { line, px, type Svg, svgDocument, tag, words } from './svg.ts'
import { fitted } from './textWidth.ts'

export interface CheckFigureOptions {
  readonly look?: Look
  readonly width?: number
  readonly height?: number | null
}

/** The rig's checks under one calibration in their order, with the chart's limits where there are enough. */
export function checkFigure(
  rigName: string,
  checks: readonly Check[],
  chart: CheckChart | null,
  { look = LIGHT, width = 960, height: wantedHeight = null }: CheckFigureOptions = {},
): string {
  const height = wantedHeight ?? 420
  const { small, heading, label } = look.size
  const narrow = isNarrow(width, look)
  const left = narrow ? 4.2 * small : 6 * small
  const edge = narrow ? 12 : left
  const values = checks.map(errorPctOf)
  const shown = [0, ...values, ...(chart === null ? [] : [chart.low, chart.high])]
  const margin = Math.max(0.02, 0.1 * (Math.max(...shown) - Math.min(...shown)))
  const plot = {
    left,
    right: width - (narrow ? 8.6 : 12.5) * small,
    top: 26 + heading + label + 2.4 * small,
    bottom: height - 3.6 * small,
  }
  const x = scaleLinear([0, Math.max(1, values.length - 1)], [plot.left + 12, plot.right - 12])
  const y = scaleLinear([Math.min(...shown) - margin, Math.max(...shown) + margin], [plot.bottom, plot.top])
  const last = values.at(-1)
  const answer = checks.at(-1)?.verdict === 'out' ? 'The rig is off' : 'The rig reads as it should'
  return svgDocument(
    {
      width,
      height,
      shapeHeight: wantedHeight,
      look,
      title: `Checks of ${rigName}`,
      description: `${checks.length} checks with a known mass; the last was ${last === undefined ? 'none' : `${last.toFixed(2)} % off`}.`,
    },
    words(edge, 18 + heading, answer, { 'font-size': heading, 'font-weight': 'bold' }),
    words(
      edge,
      26 + heading + label,
      fitted(`${rigName}: ${checks.length} checks with a known mass`, width - edge, label),
      {
        fill: look.pencil,
      },
    ),
    line(plot.left, y(0), plot.right, y(0), { stroke: look.rule }),
    ...(chart === null
      ? [
          words(plot.right + 8, y(0) + 4, narrow ? 'limits after 6' : 'limits after 6 checks', {
            fill: look.pencil,
            'font-size': look.size.small,
          }),
        ]
      : limitLines(chart, plot, y, look, narrow)),
    tag('polyline', {
      points: values.map((v, i) => `${px(x(i))},${px(y(v))}`).join(' '),
      fill: 'none',
      stroke: look.faint,
    }),
    ...checks.map((check, i) =>
      tag('circle', {
        cx: x(i),
        cy: y(values[i]!),
        r: 5,
        fill: check.verdict === 'out' ? look.paper : look.accent,
        stroke: check.verdict === 'out' ? look.warning : look.accent,
        'stroke-width': 2,
      }),
    ),
    sideAxis(y, plot.left, { look, label: 'error, %' }),
    ...dates(checks, x, plot.bottom, look),
  )
}

type Scale = (value: number) => number

function limitLines(
  { low, centre, high }: CheckChart,
  plot: { left: number; right: number; bottom: number },
  y: Scale,
  look: Look,
  narrow: boolean,
): Svg[] {
  const levels = [
    [narrow ? 'upper' : 'upper limit', high],
    ['middle', centre],
    [narrow ? 'lower' : 'lower limit', low],
  ] as const
  const labelY = apart(
    levels.map(([, pct]) => y(pct)),
    look.size.small + 4,
    plot.bottom,
  )
  return levels.flatMap(([name, pct], k) => [
    line(plot.left, y(pct), plot.right, y(pct), { stroke: look.faint, 'stroke-dasharray': '6 4' }),
    words(plot.right + 8, (labelY[k] ?? 0) + 4, `${name} ${pct.toFixed(2).replace('-', '−')} %`, {
      fill: look.pencil,
      'font-size': look.size.small,
    }),
  ])
}

function dates(checks: readonly Check[], x: Scale, bottom: number, look: Look): Svg[] {
  const ends = [0, checks.length - 1].filter((i, k, all) => i >= 0 && all.indexOf(i) === k)
  return ends.flatMap((i, k) => {
    const check = checks[i]
    if (check === undefined) return []
    return [
      words(x(i), bottom + 10 + look.size.small, check.at.slice(0, 10), {
        'text-anchor': k === 0 ? 'start' : 'end',
        'font-size': look.size.small,
        fill: look.pencil,
      }),
    ]
  })
}

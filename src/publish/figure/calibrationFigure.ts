import { scaleLinear } from 'd3-scale'
import { CLASS_LIMITS, LIMITS_NOTE } from '../../core/calibration/classLimits.ts'
import type { Calibration } from '../../core/calibration/document.ts'
import { polynomialAt } from '../../core/calibration/polynomial.ts'
import { bottomAxis, sideAxis } from './axes.ts'
import { apart, brokenTo } from './headLines.ts'
import { LIGHT, type Look, SIZE } from './look.ts'
import { line, px, type Svg, svgDocument, tag, words } from './svg.ts'

export interface CalibrationFigureOptions {
  readonly look?: Look
  readonly width?: number
  readonly height?: number
}

const MARGIN = { left: 72, right: 116, top: 104, bottom: 96 } as const

const CAPTION = `Error: fitted less applied force, over the applied. Filled dots rising, open ones falling; shaded, the doubt of one reading (95 %). Classes: ${LIMITS_NOTE}.`

/**
 * What is left after the fit, in per cent of the load, against the limits of the classes; the doubt of one reading as a
 * band. Filled dots were read rising, open ones falling, crosses were left out.
 */
export function calibrationFigure(
  calibration: Calibration,
  { look = LIGHT, width = 960, height = 560 }: CalibrationFigureOptions = {},
): string {
  const dots = calibration.points
    .filter(point => point.appliedN > 0)
    .map(point => ({
      ...point,
      errorPct:
        (100 * (polynomialAt(calibration.coefficients, point.reading) - point.appliedN)) / point.appliedN,
    }))
  const band = calibration.uncertainty.map(u => ({ atN: u.atN, pct: (100 * u.expandedN) / u.atN }))
  const most = Math.max(0.1, ...dots.map(d => Math.abs(d.errorPct)))
  const shown = CLASS_LIMITS.filter(([, limits], k) => {
    const inner = CLASS_LIMITS[k - 1]?.[1].indicationPct ?? 0
    return limits.indicationPct <= 1.1 * most || inner < 1.1 * most
  })
  const edge = 1.15 * Math.max(most, ...shown.map(([, limits]) => limits.indicationPct))
  const plot = {
    left: MARGIN.left,
    right: width - MARGIN.right,
    top: MARGIN.top,
    bottom: height - MARGIN.bottom,
  }
  const x = scaleLinear([0, calibration.calibratedRange.toN * 1.04], [plot.left, plot.right])
  const y = scaleLinear([-edge, edge], [plot.bottom, plot.top])
  const verdict = calibration.corrected ?? calibration
  const heading =
    verdict.class === null ? 'No class is reached' : `Within the limits of class ${verdict.class}`
  return svgDocument(
    {
      width,
      height,
      look,
      title: `Calibration of ${calibration.name}`,
      description: `${heading}. ${verdict.why} Greatest error of a single reading ${most.toFixed(2)} % of the load.`,
    },
    words(plot.left, 40, heading, { 'font-size': SIZE.heading, 'font-weight': 'bold' }),
    words(plot.left, 62, `${calibration.name}: ${calibration.degreeWhy}`, { fill: look.pencil }),
    doubtBand(band, x, y, edge, look),
    ...limitLines(
      shown.map(([name, limits]) => [name, limits.indicationPct] as const),
      plot,
      y,
      look,
    ),
    line(plot.left, y(0), plot.right, y(0), { stroke: look.ink }),
    ...dots.map(dot => mark(dot, x(dot.appliedN), y(dot.errorPct), look)),
    sideAxis(y, plot.left, { look, label: 'error, %' }),
    bottomAxis(x, plot.bottom, { look, label: 'applied force, N' }),
    ...brokenTo(CAPTION, width - 2 * plot.left, SIZE.small).map((text, k) =>
      words(plot.left, plot.bottom + 58 + 16 * k, text, { 'font-size': SIZE.small, fill: look.pencil }),
    ),
  )
}

type Scale = (value: number) => number

function doubtBand(
  band: readonly { atN: number; pct: number }[],
  x: Scale,
  y: Scale,
  edge: number,
  look: Look,
): Svg | null {
  if (band.length < 2) return null
  const at = (sign: 1 | -1) => band.map(b => `${px(x(b.atN))},${px(y(sign * Math.min(b.pct, edge)))}`)
  return tag('polygon', {
    points: [...at(1), ...at(-1).reverse()].join(' '),
    fill: look.accent,
    'fill-opacity': 0.1,
  })
}

function limitLines(
  limits: readonly (readonly [name: string, pct: number])[],
  plot: { left: number; right: number; bottom: number },
  y: Scale,
  look: Look,
): Svg[] {
  const lines = [...limits.map(([name, pct]) => [name, -pct] as const), ...limits].sort((a, b) => b[1] - a[1])
  const labelY = apart(
    lines.map(([, pct]) => y(pct)),
    SIZE.small + 3,
    plot.bottom,
  )
  return lines.flatMap(([name, pct], k) => [
    line(plot.left, y(pct), plot.right, y(pct), { stroke: look.faint, 'stroke-dasharray': '6 4' }),
    words(plot.right + 8, (labelY[k] ?? 0) + 4, `class ${name}`, {
      'font-size': SIZE.small,
      fill: look.pencil,
    }),
  ])
}

function mark(
  { direction, used, suspect, line: fileLine }: Calibration['points'][number],
  cx: number,
  cy: number,
  look: Look,
): Svg {
  const colour = suspect || !used ? look.warning : look.accent
  const dot =
    used || direction === 'down'
      ? tag('circle', {
          cx,
          cy,
          r: 5,
          fill: direction === 'up' ? colour : look.paper,
          stroke: colour,
          'stroke-width': 2,
        })
      : tag(
          'g',
          { stroke: colour, 'stroke-width': 2 },
          line(cx - 5, cy - 5, cx + 5, cy + 5, {}),
          line(cx - 5, cy + 5, cx + 5, cy - 5, {}),
        )
  if (!suspect) return dot
  return tag(
    'g',
    {},
    dot,
    words(cx + 9, cy + 4, `line ${fileLine}, far off`, { fill: look.warning, 'font-size': SIZE.small }),
  )
}

import { scaleLinear } from 'd3-scale'
import { CLASS_LIMITS, LIMITS_NOTE } from '../../core/calibration/classLimits.ts'
import type { Calibration } from '../../core/calibration/document.ts'
import { polynomialAt } from '../../core/calibration/polynomial.ts'
import { bottomAxis, bottomAxisPx, sideAxis } from './axes.ts'
import { apart, footLines } from './headLines.ts'
import { LIGHT, type Look } from './look.ts'
import { isNarrow } from './shape.ts'
import { line, px, type Svg, svgDocument, tag, words } from './svg.ts'

export interface CalibrationFigureOptions {
  readonly look?: Look
  readonly width?: number
  readonly height?: number | null
}

const CAPTION = `Error: fitted less applied force, over the applied. Filled dots rising, open ones falling; shaded, the doubt of one reading (95 %). Classes: ${LIMITS_NOTE}.`

/**
 * What is left after the fit, in per cent of the load, against the limits of the classes; the doubt of one reading as a
 * band. Filled dots were read rising, open ones falling, crosses were left out.
 */
export function calibrationFigure(
  calibration: Calibration,
  { look = LIGHT, width = 960, height: wantedHeight = null }: CalibrationFigureOptions = {},
): string {
  const height = wantedHeight ?? 560
  const { small, heading, label } = look.size
  const narrow = isNarrow(width, look)
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
  const edgePct = 1.15 * Math.max(most, ...shown.map(([, limits]) => limits.indicationPct))
  const left = narrow ? 4 * small : 6 * small
  const edge = narrow ? 12 : left
  const about = footLines(`${calibration.name}: ${calibration.degreeWhy}`, {
    x: edge,
    y: 26 + heading + label,
    width: width - edge - 12,
    look: { ...look, size: { ...look.size, small: label } },
  })
  const caption = (y: number) => footLines(CAPTION, { x: edge, y, width: width - 2 * edge, look })
  const plot = {
    left,
    right: width - (narrow ? 6 : 9.7) * small,
    top: 26 + heading + about.height + 2.4 * small,
    bottom: height - bottomAxisPx(look) - caption(0).height - small,
  }
  const x = scaleLinear([0, calibration.calibratedRange.toN * 1.04], [plot.left, plot.right])
  const y = scaleLinear([-edgePct, edgePct], [plot.bottom, plot.top])
  const captionY = plot.bottom + bottomAxisPx(look) + small + 4
  const verdict = calibration.corrected ?? calibration
  const answer =
    verdict.class === null ? 'No class is reached' : `Within the limits of class ${verdict.class}`
  return svgDocument(
    {
      width,
      height,
      shapeHeight: wantedHeight,
      look,
      title: `Calibration of ${calibration.name}`,
      description: `${answer}. ${verdict.why} Greatest error of a single reading ${most.toFixed(2)} % of the load.`,
    },
    words(edge, 18 + heading, answer, { 'font-size': heading, 'font-weight': 'bold' }),
    about.svg,
    doubtBand(band, x, y, edgePct, look),
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
    caption(captionY).svg,
  )
}

type Scale = (value: number) => number

function doubtBand(
  band: readonly { atN: number; pct: number }[],
  x: Scale,
  y: Scale,
  edgePct: number,
  look: Look,
): Svg | null {
  if (band.length < 2) return null
  const at = (sign: 1 | -1) => band.map(b => `${px(x(b.atN))},${px(y(sign * Math.min(b.pct, edgePct)))}`)
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
    look.size.small + 3,
    plot.bottom,
  )
  return lines.flatMap(([name, pct], k) => [
    line(plot.left, y(pct), plot.right, y(pct), { stroke: look.faint, 'stroke-dasharray': '6 4' }),
    words(plot.right + 8, (labelY[k] ?? 0) + 4, `class ${name}`, {
      'font-size': look.size.small,
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
    words(cx + 9, cy + 4, `line ${fileLine}, far off`, { fill: look.warning, 'font-size': look.size.small }),
  )
}

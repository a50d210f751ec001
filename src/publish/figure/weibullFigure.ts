import { type ScaleLinear, type ScaleLogarithmic, scaleLinear, scaleLog } from 'd3-scale'
import { quantityWords } from '../../core/statistics/compare/quantity.ts'
import { list } from '../../core/statistics/compare/words.ts'
import type { ComparedGroup, Comparison } from '../../core/statistics/document.ts'
import { plotPositions } from '../../core/statistics/group/plotPositions.ts'
import { plainNumber, threeDigits } from '../../core/units/showForce.ts'
import { bottomAxisPx } from './axes.ts'
import type { CompareFigureOptions } from './dotsFigure.ts'
import { apart, footLines, gapIn, lineOf } from './headLines.ts'
import { LIGHT, type Look, variantLine } from './look.ts'
import { modeLegend } from './modeLegend.ts'
import { modeMark } from './modeMark.ts'
import { modesOf } from './modes.ts'
import { isNarrow } from './shape.ts'
import { line, type Svg, svgDocument, tag, words } from './svg.ts'
import { fitted, nameLines, textWidth } from './textWidth.ts'

/** Shares broken that are written at the axis; 63.2 % is where the scale is read. */
const SHARES = [0.01, 0.02, 0.05, 0.1, 0.2, 0.4, 0.632, 0.8, 0.9, 0.99]

/** ln(−ln(1 − p)): on it, against ln of strength, a Weibull distribution is a straight line. */
const stretch = (p: number): number => Math.log(-Math.log1p(-p))

/**
 * Weibull plot: strength on a logarithmic axis against the share broken, median ranks (censored ones move the ranks
 * above them), with the line of each group's fit. A straight row of points speaks for the distribution. Marks differ by
 * failure mode, as in the figure of all specimens; the groups by their lines.
 */
export function weibullFigure(
  comparison: Comparison,
  { shown = null, look = LIGHT, width = 960, height: wantedHeight = null }: CompareFigureOptions = {},
): string {
  const height = wantedHeight ?? 600
  const { small, heading, label: labelPx } = look.size
  const narrow = isNarrow(width, look)
  const edge = narrow ? 12 : 24
  const per = shown?.per ?? 1
  const unit = shown?.unit ?? comparison.unit
  const noun = quantityWords(comparison.quantity).noun
  const series = comparison.groups.map((group, index) => ({
    group,
    index,
    points: pointsOf(group, comparison, per),
  }))
  const subtitle = footLines('Share of specimens broken against strength; the line is the Weibull fit', {
    x: edge,
    y: 24 + heading + labelPx,
    width: width - 2 * edge,
    look: { ...look, size: { ...look.size, small: labelPx } },
  })
  const modes = modesOf(comparison)
  const legend = modeLegend(modes, {
    x: edge,
    y: 24 + heading + labelPx + subtitle.height,
    toX: width - edge,
    look,
  })
  const labelled = series.filter(s => s.points.length > 0)
  const fits = labelled.map(s => `${s.group.name}: ${fitWords(s.group, { per, unit })}`)
  // Beside the plot there is room for the names alone: what was fitted stands in lines under it.
  const foot = footLines(narrow ? fits.join(' · ') : '', { x: edge, y: 0, width: width - 2 * edge, look })
  const plot = {
    left: 5.5 * small + (narrow ? -16 : 12),
    right: width - (narrow ? 7 : 14.5) * small,
    top: 24 + heading + subtitle.height + labelPx + (legend?.height ?? 0),
    bottom: height - bottomAxisPx(look) - foot.height - small,
  }
  const values = series.flatMap(s => s.points.map(p => p.value))
  const [low, high] = values.length > 0 ? [Math.min(...values), Math.max(...values)] : [1, 10]
  const x = scaleLog([low / 1.15, high * 1.15], [plot.left, plot.right])
  const y = scaleLinear([stretch(0.008), stretch(0.992)], [plot.bottom, plot.top])
  const wished = narrow ? 3.4 * labelPx : 2 * labelPx + lineOf(small) + 4
  const gap = gapIn(labelled.length, wished, [plot.top + labelPx, plot.bottom])
  const labelY = apart(
    labelled.map(s =>
      Math.max(plot.top + labelPx, lineY(s.group, x, y, per) ?? y(stretch(s.points.at(-1)!.probability))),
    ),
    gap,
    plot.bottom,
  )
  return svgDocument(
    {
      width,
      height,
      shapeHeight: wantedHeight,
      title: `Weibull plot of the ${noun} of ${list(comparison.groups.map(g => g.name))}`,
      description: descriptionOf(comparison, unit, per),
      look,
    },
    words(edge, 18 + heading, `How the ${noun} scatters`, { 'font-size': heading, 'font-weight': 700 }),
    subtitle.svg,
    legend?.svg ?? null,
    ...sharesIn(y, small).map(p => shareTick(p, y, plot, look)),
    ...valuesIn(x, look).map(v => valueTick(v, x, plot, look)),
    words(plot.right, plot.bottom + bottomAxisPx(look) - 3, unit === '' ? noun : `${noun}, ${unit}`, {
      'text-anchor': 'end',
      'font-size': small,
      fill: look.pencil,
    }),
    ...series.flatMap(s => seriesMarks(s, { x, y, per, modes, look })),
    ...labelled.map((s, i) =>
      label(s.group, s.index, plot.right + 12, labelY[i]!, {
        look,
        width,
        oneLine: gap < wished,
        fit: narrow ? null : fitWords(s.group, { per, unit }),
      }),
    ),
    narrow
      ? footLines(fits.join(' · '), {
          x: edge,
          y: plot.bottom + bottomAxisPx(look) + small + 2,
          width: width - 2 * edge,
          look,
        }).svg
      : null,
  )
}

/** `4.00` → `4`: a round value at an axis needs no digits behind the point. */
const axisDigits = (value: number): string => threeDigits(value).replace(/\.?0+$|(\.\d*?)0+$/, '$1')

/** Shares whose figures have room over one another. */
function sharesIn(y: Y, small: number): number[] {
  const kept: number[] = []
  // The share at which the scale is read comes first, then the ends.
  for (const share of [0.632, 0.01, 0.99, ...SHARES])
    if (kept.every(other => Math.abs(y(stretch(other)) - y(stretch(share))) >= 1.3 * small)) kept.push(share)
  return kept
}

/** Values at the axis whose figures have room beside one another. */
function valuesIn(x: X, { size }: Look): number[] {
  const kept: number[] = []
  for (const value of x.ticks(8)) {
    const last = kept.at(-1)
    const room = textWidth(axisDigits(value), size.small) + 0.7 * size.small
    if (last === undefined || x(value) - x(last) >= room) kept.push(value)
  }
  return kept
}

interface Point {
  readonly value: number
  readonly mode: string | null
  readonly probability: number
}

/** Median ranks of the broken specimens of a group. */
function pointsOf(group: ComparedGroup, { specimens }: Comparison, per: number): Point[] {
  const own = specimens.filter(
    s => s.group === group.name && s.dropped === null && s.value !== null && s.value > 0,
  )
  const positions = plotPositions(
    own.map(s => s.value! / per),
    own.map(s => s.status === 'at-least'),
  )
  return positions.map(({ index, value, probability }) => ({ value, probability, mode: own[index]!.mode }))
}

type X = ScaleLogarithmic<number, number>
type Y = ScaleLinear<number, number>

const fitAt = ({ weibull }: ComparedGroup, value: number, per: number): number | null =>
  weibull === null ? null : weibull.shape * Math.log((value * per) / weibull.scale)

/** Where a group's line leaves the plot at the right, or its top. */
function lineY(group: ComparedGroup, x: X, y: Y, per: number): number | null {
  const end = fitAt(group, x.domain()[1]!, per)
  return end === null ? null : Math.max(y.range()[1]!, y(end))
}

function seriesMarks(
  { group, index, points }: { group: ComparedGroup; index: number; points: readonly Point[] },
  { x, y, per, modes, look }: { x: X; y: Y; per: number; modes: readonly (string | null)[]; look: Look },
): Svg[] {
  const { colour, dashes } = variantLine(look, index)
  const marks = points.map(p =>
    modeMark(modes.indexOf(p.mode), x(p.value), y(stretch(p.probability)), {
      colour,
      paper: look.paper,
      open: false,
    }),
  )
  const { weibull } = group
  if (weibull === null) return marks
  // The line from the lowest to the highest share shown, cut to the plot.
  const ends = y.domain().map(h => (weibull.scale / per) * Math.exp(h / weibull.shape))
  const [from, to] = [Math.max(ends[0]!, x.domain()[0]!), Math.min(ends[1]!, x.domain()[1]!)]
  const at = (value: number): number => y(fitAt(group, value, per)!)
  return [
    line(x(from), at(from), x(to), at(to), {
      stroke: colour,
      'stroke-width': 2,
      'stroke-dasharray': dashes || undefined,
    }),
    ...marks,
  ]
}

const fitWords = ({ weibull }: ComparedGroup, { per, unit }: { per: number; unit: string }): string =>
  weibull === null
    ? 'too few for a fit'
    : `shape ${plainNumber(weibull.shape, 1)}, scale ${threeDigits(weibull.scale / per)}${unit === '' ? '' : ` ${unit}`}`

const LINE_SAMPLE_PX = 30

function label(
  { name, weibull }: ComparedGroup,
  index: number,
  x: number,
  y: number,
  { look, width, oneLine, fit }: { look: Look; width: number; oneLine: boolean; fit: string | null },
): Svg {
  const { colour, dashes } = variantLine(look, index)
  const { label: size, small } = look.size
  const sample =
    weibull === null
      ? null
      : line(x, y - size - 2, x + LINE_SAMPLE_PX, y - size - 2, {
          stroke: colour,
          'stroke-width': 2,
          'stroke-dasharray': dashes || undefined,
        })
  const room = width - x - 4
  if (fit !== null)
    return tag(
      'g',
      {},
      sample,
      words(x, y, fitted(name, room, size), { 'font-weight': 700, fill: colour }),
      words(x, y + lineOf(small), fit, { 'font-size': small, fill: look.pencil }),
    )
  return tag(
    'g',
    {},
    sample,
    ...(oneLine ? [fitted(name, room, size)] : nameLines(name, room, size)).map((text, i) =>
      words(x, y + (i + 0.6) * lineOf(size), text, { 'font-weight': 700, fill: colour }),
    ),
  )
}

function shareTick(p: number, y: Y, plot: { left: number; right: number }, look: Look): Svg {
  const at = y(stretch(p))
  const main = p === 0.632
  return tag(
    'g',
    {},
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

const valueTick = (v: number, x: X, plot: { top: number; bottom: number }, look: Look): Svg =>
  tag(
    'g',
    {},
    line(x(v), plot.top, x(v), plot.bottom, { stroke: look.rule }),
    words(x(v), plot.bottom + 6 + look.size.small, axisDigits(v), {
      'text-anchor': 'middle',
      'font-size': look.size.small,
      fill: look.pencil,
    }),
  )

const descriptionOf = ({ groups }: Comparison, unit: string, per: number): string =>
  groups
    .map(({ name, n, weibull }) =>
      weibull === null
        ? `${name}: ${n} values, too few for a fit.`
        : `${name}: ${n} values, shape ${plainNumber(weibull.shape, 2)} (95 % interval ${plainNumber(weibull.shape95[0], 2)} to ${plainNumber(weibull.shape95[1], 2)}), characteristic strength ${threeDigits(weibull.scale / per)} ${unit}, one in ten breaks below ${threeDigits(weibull.p10 / per)}.`,
    )
    .join(' ')

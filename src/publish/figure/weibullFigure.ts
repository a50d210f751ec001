import { scaleLinear, scaleLog } from 'd3-scale'
import { answerIn } from '../../core/answer/answerOf.ts'
import { saysPractice } from '../../core/reading/practice.ts'
import { quantityWords } from '../../core/statistics/compare/quantity.ts'
import { list } from '../../core/statistics/compare/words.ts'
import type { ComparedGroup, Comparison } from '../../core/statistics/document.ts'
import { plotPositions, stretch } from '../../core/statistics/group/plotPositions.ts'
import { plainNumber, threeDigits } from '../../core/units/showForce.ts'
import { bottomAxisPx } from './axes.ts'
import type { CompareFigureOptions } from './dotsFigure.ts'
import { apart, footLines, gapIn, headLines, lineOf } from './headLines.ts'
import { LIGHT, type Look, variantLine } from './look.ts'
import { modeLegend } from './modeLegend.ts'
import { modeMark } from './modeMark.ts'
import { modesOf } from './modes.ts'
import { pointLabels } from './pointLabels.ts'
import { isNarrow } from './shape.ts'
import { line, rim, type Svg, svgDocument, tag, words } from './svg.ts'
import { fitted, nameLines, textWidth } from './textWidth.ts'
import { sharesIn, shareTick, valuesIn, valueTick, type X, type Y } from './weibullAxes.ts'

/**
 * Weibull plot: strength on a logarithmic axis against the share broken, median ranks (censored ones move the ranks
 * above them), with the line of each group's fit. A straight row of points speaks for the distribution. Marks differ by
 * failure mode, as in the figure of all specimens; the groups by their lines, or where one has none by its name beside
 * its points.
 */
export function weibullFigure(
  comparison: Comparison,
  {
    shown = null,
    look = LIGHT,
    width = 960,
    height: wantedHeight = null,
    headline = answerIn(comparison).headline,
  }: CompareFigureOptions = {},
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
  const head = headLines(headline ?? `How the ${noun} scatters`, {
    x: edge,
    y: 18 + heading,
    width: width - 2 * edge,
    look,
    size: heading,
  })
  const headBottom = 24 + heading + head.height - lineOf(heading)
  const subtitle = footLines('Share of specimens broken against strength; the line is the Weibull fit', {
    x: edge,
    y: headBottom + labelPx,
    width: width - 2 * edge,
    look: { ...look, size: { ...look.size, small: labelPx } },
  })
  const modes = modesOf(comparison)
  const legend = modeLegend(modes, {
    x: edge,
    y: headBottom + labelPx + subtitle.height,
    toX: width - edge,
    look,
  })
  const labelled = series.filter(s => s.points.length > 0)
  const fits = labelled.map(s => `${s.group.name}: ${fitWords(s.group, { per, unit })}`)
  // Beside the plot there is room for the names alone: what was fitted stands in lines under it.
  const foot = footLines(narrow ? fits.join(' · ') : '', { x: edge, y: 0, width: width - 2 * edge, look })
  const fitRoom = Math.max(0, ...labelled.map(s => textWidth(fitWords(s.group, { per, unit }), small) + 20))
  const plot = {
    left: 5.5 * small + (narrow ? -16 : 12),
    right: width - (narrow ? 7 * small : Math.max(14.5 * small, fitRoom)),
    top: headBottom + subtitle.height + labelPx + (legend?.height ?? 0),
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
      practice: saysPractice(comparison),
    },
    head.svg,
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
    ...namesAtPoints(labelled, { x, y, per, plot, look }),
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

const fitAt = ({ weibull }: ComparedGroup, value: number, per: number): number | null =>
  weibull === null ? null : weibull.shape * Math.log((value * per) / weibull.scale)

/** Where a group's line leaves the plot at the right, or its top. */
function lineY(group: ComparedGroup, x: X, y: Y, per: number): number | null {
  const end = fitAt(group, x.domain()[1]!, per)
  return end === null ? null : Math.max(y.range()[1]!, y(end))
}

function seriesMarks(
  { group, index, points }: Series,
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

interface Series {
  readonly group: ComparedGroup
  readonly index: number
  readonly points: readonly Point[]
}

/** The names of groups without a line, beside their points: a colour alone tells nobody which they are. */
function namesAtPoints(
  series: readonly Series[],
  { x, y, per, plot, look }: { x: X; y: Y; per: number; plot: { left: number; right: number }; look: Look },
): Svg[] {
  const at = ({ value, probability }: Point) => ({ x: x(value), y: y(stretch(probability)) })
  const { small } = look.size
  const loose = series.filter(({ group }) => group.weibull === null)
  const lines = series.flatMap(({ group }) => alongLine(group, { x, y, per }))
  const named = loose.map(({ group, points }) => ({
    name: fitted(group.name, (plot.right - plot.left) / 3, small),
    marks: points.map(at).toReversed(),
  }))
  const places = pointLabels(named, {
    left: plot.left,
    right: plot.right,
    sizePx: small,
    taken: [...series.flatMap(({ points }) => points.map(at)), ...lines],
  })
  return places.map((place, i) =>
    words(place.x, place.y, named[i]!.name, {
      'font-size': small,
      'font-weight': 700,
      fill: variantLine(look, loose[i]!.index).colour,
      ...rim(look),
    }),
  )
}

/** Points along the line of a fit, near enough to one another that no word fits between. */
function alongLine({ weibull }: ComparedGroup, { x, y, per }: { x: X; y: Y; per: number }) {
  if (weibull === null) return []
  const [from, to] = x.domain() as [number, number]
  const [low, high] = y.domain() as [number, number]
  return Array.from({ length: 100 }, (_, i) => low + ((high - low) * i) / 99)
    .map(h => ({ value: (weibull.scale / per) * Math.exp(h / weibull.shape), h }))
    .filter(({ value }) => value >= from && value <= to)
    .map(({ value, h }) => ({ x: x(value), y: y(h) }))
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
      words(x, y + i * lineOf(size), text, { 'font-weight': 700, fill: colour }),
    ),
  )
}

const descriptionOf = ({ groups }: Comparison, unit: string, per: number): string =>
  groups
    .map(({ name, n, weibull }) =>
      weibull === null
        ? `${name}: ${n} values, too few for a fit.`
        : `${name}: ${n} values, shape ${plainNumber(weibull.shape, 2)} (95 % interval ${plainNumber(weibull.shape95[0], 2)} to ${plainNumber(weibull.shape95[1], 2)}), characteristic strength ${threeDigits(weibull.scale / per)} ${unit}, one in ten breaks below ${threeDigits(weibull.p10 / per)}.`,
    )
    .join(' ')

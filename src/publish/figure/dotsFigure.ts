import { type ScaleLinear, scaleLinear } from 'd3-scale'
import { quantityWords } from '../../core/statistics/compare/quantity.ts'
import { list, type Scale, withUnit } from '../../core/statistics/compare/words.ts'
import type { ComparedGroup, ComparedSpecimen, Comparison } from '../../core/statistics/document.ts'
import { decimalsFor, plainNumber, threeDigits } from '../../core/units/showForce.ts'
import { bottomAxis, bottomAxisPx } from './axes.ts'
import { headLines, lineOf } from './headLines.ts'
import { LIGHT, type Look, variantLine } from './look.ts'
import { modeMark } from './modeMark.ts'
import { isNarrow } from './shape.ts'
import { line, px, type Svg, svgDocument, tag, words } from './svg.ts'
import { brokenTo, fitted, textWidth } from './textWidth.ts'

export interface CompareFigureOptions {
  readonly shown?: Scale['shown']
  readonly look?: Look
  readonly width?: number
  readonly height?: number | null
  /** Whether the verdict stands over it; left out where it stands beside. */
  readonly withVerdict?: boolean
}

/**
 * A row for each group: every specimen as a mark with its own doubt, and beneath them the mean with its 95 % interval.
 * Marks differ by failure mode; what was only reached is open with an arrow, what was dropped is struck out, what
 * stands apart is ringed. Nothing hides a point.
 */
export function dotsFigure(
  comparison: Comparison,
  {
    shown = null,
    look = LIGHT,
    width = 960,
    height: wantedHeight = null,
    withVerdict = true,
  }: CompareFigureOptions = {},
): string {
  const { groups, specimens, quantity, verdict } = comparison
  const { small, heading } = look.size
  const narrow = isNarrow(width, look)
  const per = shown?.per ?? 1
  const unit = shown?.unit ?? comparison.unit
  const edge = narrow ? 12 : 24
  const plot = narrow
    ? { left: edge + 8, right: width - edge - 8 }
    : { left: 12.5 * small, right: width - 10.8 * small }
  const headSize = narrow ? look.size.label : heading - 2
  const head = headLines(
    clausesIn(withVerdict ? verdict : '', MOST_HEAD_LINES, { width: width - 2 * edge, size: headSize }),
    {
      x: edge,
      y: 20 + heading,
      width: width - 2 * edge,
      look,
      size: headSize,
    },
  )
  const modes = [...new Set(specimens.map(s => s.mode))]
  const x = scaleLinear(rangeOf(comparison, per), [plot.left, plot.right]).nice()
  const rows = groups.map((group, index) =>
    rowOf(group, { specimens, index, modes, x, per, look, width, edge, narrow }),
  )
  const headBottom = withVerdict ? 20 + heading + head.height : 20
  const legend = modeLegend(modes, {
    x: narrow ? edge : plot.left,
    y: headBottom + 4,
    toX: width - edge,
    look,
  })
  const top = headBottom + (legend === null ? 0 : legend.height) - (narrow ? 8 : 0)
  const own = rows.reduce((sum, r) => sum + r.height, 0)
  const foot = bottomAxisPx(look) + 12
  const spare = Math.max(0, ((wantedHeight ?? 0) - top - own - foot) / Math.max(1, rows.length))
  const tops = rows.map(
    (_, i) => top + spare * (i + 0.5) + rows.slice(0, i).reduce((sum, r) => sum + r.height, 0),
  )
  const bottom = top + own + spare * rows.length
  const words_ = quantityWords(quantity)
  return svgDocument(
    {
      width,
      height: bottom + foot,
      shapeHeight: wantedHeight,
      title: `${capital(words_.noun)} of ${list(groups.map(g => g.name))}`,
      description: descriptionOf(comparison, { per, unit }),
      look,
    },
    head.svg,
    legend?.svg ?? null,
    ...x.ticks(8).map(v => line(x(v), top, x(v), bottom, { stroke: look.rule })),
    ...rows.map((row, i) => tag('g', { transform: `translate(0 ${px(tops[i]!)})` }, row.svg)),
    bottomAxis(x, bottom, { look, label: unit === '' ? words_.noun : `${words_.noun}, ${unit}` }),
  )
}

/** Lines of the verdict over a figure; the whole of it is in the description. */
const MOST_HEAD_LINES = 6

/** As many whole clauses of a sentence as fit into the lines, an ellipsis for the others. */
function clausesIn(
  sentence: string,
  lines: number,
  { width, size }: { width: number; size: number },
): string {
  const clauses = sentence.split('; ')
  while (clauses.length > 1 && brokenTo(whole(clauses, sentence), width, size).length > lines) clauses.pop()
  return whole(clauses, sentence)
}

const whole = (clauses: readonly string[], sentence: string): string => {
  const text = clauses.join('; ')
  return text === sentence ? text : `${text} …`
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

function rangeOf({ specimens, groups }: Comparison, per: number): [number, number] {
  const all = [
    ...specimens.flatMap(s => [s.value, s.low, s.high]),
    ...groups.flatMap(g => [...(g.ci95WithDoubt ?? g.ci95 ?? [])]),
  ].flatMap(v => (v === null ? [] : [v / per]))
  if (all.length === 0) return [0, 1]
  const [low, high] = [Math.min(...all), Math.max(...all)]
  const room = high > low ? (high - low) * 0.06 : Math.abs(high) * 0.1 || 1
  return [low - room, high + room]
}

interface RowOptions {
  readonly specimens: readonly ComparedSpecimen[]
  readonly index: number
  readonly modes: readonly (string | null)[]
  readonly x: ScaleLinear<number, number>
  readonly per: number
  readonly look: Look
  readonly width: number
  readonly edge: number
  /** The name stands over the row, not beside it. */
  readonly narrow: boolean
}

const dotPx = ({ size }: Look): number => 0.42 * size.small

function rowOf(group: ComparedGroup, options: RowOptions): { svg: Svg; height: number } {
  const { specimens, index, x, per, look, width, edge, narrow } = options
  const { small, label } = look.size
  const { colour } = variantLine(look, index)
  const own = specimens.filter(s => s.group === group.name)
  const drawn = own.filter(s => s.value !== null)
  const levels = stacked(
    drawn.map(s => x(s.value! / per)),
    dotPx(look) * 2 + 1,
  )
  const depth = Math.max(0, ...levels) * (dotPx(look) * 2 + 1)
  const dotsY = (narrow ? label + 1.4 * small : 2.2 * small) + depth
  const intervalY = dotsY + (narrow ? 1.7 : 2.5) * small
  const height = Math.max(narrow ? 0 : 7 * small, intervalY + (narrow ? 1.4 : 1.8) * small)
  const lost = group.notRecorded.length
  const side = [
    `${group.n}${group.n === 1 ? ' specimen' : ' specimens'}`,
    ...(lost > 0 ? [`${lost} not recorded`] : []),
  ]
  const nameWidth = narrow ? width - 2 * edge - textWidth(side.join(', '), small) - 12 : x.range()[0]! - 32
  const sideWords = narrow
    ? [
        words(width - edge, label, side.join(', '), {
          'text-anchor': 'end',
          'font-size': small,
          fill: look.pencil,
        }),
      ]
    : side.map((text, i) =>
        words(x.range()[1]! + 14, dotsY + 5 + i * lineOf(small), text, {
          'font-size': small,
          fill: look.pencil,
        }),
      )
  return {
    height,
    svg: tag(
      'g',
      {},
      words(edge, narrow ? label : dotsY + 5, fitted(group.name, nameWidth, label + 1), {
        'font-weight': 700,
        'font-size': label + 1,
        fill: colour,
      }),
      ...sideWords,
      ...drawn.map((s, i) => specimenMark(s, dotsY - levels[i]! * (dotPx(look) * 2 + 1), colour, options)),
      intervalMark(group, intervalY, options),
    ),
  }
}

/** A level for each dot so that none covers another: 0 at the row's line, then upwards. */
function stacked(places: readonly number[], apart: number): number[] {
  const taken: number[][] = []
  const levels = places.map(() => 0)
  for (const i of Array.from(places.keys()).sort((a, b) => places[a]! - places[b]!)) {
    let level = 0
    while ((taken[level] ?? []).some(at => Math.abs(at - places[i]!) < apart)) level++
    taken[level] = [...(taken[level] ?? []), places[i]!]
    levels[i] = level
  }
  return levels
}

function specimenMark(
  s: ComparedSpecimen,
  y: number,
  colour: string,
  { x, per, modes, look }: RowOptions,
): Svg {
  const at = x(s.value! / per)
  const [low, high] = [s.low ?? s.value!, s.high ?? s.value!].map(v => x(v / per)) as [number, number]
  const mode = Math.max(0, modes.indexOf(s.mode))
  const reached = s.status === 'at-least'
  return tag(
    'g',
    { opacity: s.dropped === null ? undefined : 0.75 },
    tag('title', {}, markText(s, per)),
    high > low ? line(low, y, high, y, { stroke: colour, 'stroke-width': 1 }) : null,
    reached ? line(at, y, at + 16, y, { stroke: colour, 'stroke-width': 1.5 }) : null,
    reached
      ? tag('polyline', {
          points: `${at + 11},${y - 4} ${at + 17},${y} ${at + 11},${y + 4}`,
          fill: 'none',
          stroke: colour,
          'stroke-width': 1.5,
        })
      : null,
    modeMark(mode, at, y, {
      colour,
      paper: look.paper,
      open: reached || s.dropped !== null,
      size: dotPx(look),
    }),
    s.dropped === null ? null : line(at - 8, y + 8, at + 8, y - 8, { stroke: look.ink, 'stroke-width': 1.5 }),
    s.suspect === null
      ? null
      : tag('circle', {
          cx: at,
          cy: y,
          r: dotPx(look) + 4,
          fill: 'none',
          stroke: look.warning,
          'stroke-width': 1.5,
        }),
  )
}

const markText = (s: ComparedSpecimen, per: number): string =>
  [
    `${s.name}: ${s.status === 'at-least' ? 'at least ' : ''}${threeDigits(s.value! / per)}`,
    s.mode ?? '',
    s.dropped === null ? '' : `dropped: ${s.dropped}`,
    s.suspect === null ? '' : 'stands apart',
  ]
    .filter(text => text !== '')
    .join(', ')

function intervalMark(
  group: ComparedGroup,
  y: number,
  { x, per, look, index, width, edge }: RowOptions,
): Svg | null {
  const { colour, dashes } = variantLine(look, index)
  const ends = group.ci95WithDoubt ?? group.ci95
  if (group.mean === null) return null
  const at = x(group.mean / per)
  if (ends === null) return line(at, y - 8, at, y + 8, { stroke: colour, 'stroke-width': 2 })
  const [low, high] = [x(ends[0] / per), x(ends[1] / per)]
  const half = (ends[1] - ends[0]) / 2 / per
  const text = `${plainNumber(group.mean / per, decimalsFor(half))} ± ${plainNumber(half, decimalsFor(half))}`
  const fits = high + 10 + textWidth(text, look.size.small) <= width - edge
  return tag(
    'g',
    {},
    line(low, y, high, y, { stroke: colour, 'stroke-width': 2.5, 'stroke-dasharray': dashes || undefined }),
    line(low, y - 5, low, y + 5, { stroke: colour, 'stroke-width': 1.5 }),
    line(high, y - 5, high, y + 5, { stroke: colour, 'stroke-width': 1.5 }),
    line(at, y - 9, at, y + 9, { stroke: colour, 'stroke-width': 2.5 }),
    words(fits ? high + 10 : low - 10, y + 4, text, {
      'font-size': look.size.small,
      fill: look.ink,
      'text-anchor': fits ? 'start' : 'end',
    }),
  )
}

/** Which mark is which failure mode, in as many lines as it takes; `null` where there is but one. */
function modeLegend(
  modes: readonly (string | null)[],
  { x, y, toX, look }: { x: number; y: number; toX: number; look: Look },
): { svg: Svg; height: number } | null {
  if (modes.filter(m => m !== null).length < 2) return null
  const { small } = look.size
  let at = { x, y }
  const items = modes.map((mode, i) => {
    const text = mode ?? 'not noted'
    const width = 36 + textWidth(text, small)
    if (at.x > x && at.x + width - 18 > toX) at = { x, y: at.y + lineOf(small) }
    const item = tag(
      'g',
      {},
      modeMark(i, at.x + 6, at.y - small / 3, { colour: look.pencil, paper: look.paper, open: false }),
      words(at.x + 18, at.y, text, { 'font-size': small, fill: look.pencil }),
    )
    at = { x: at.x + width, y: at.y }
    return item
  })
  return { svg: tag('g', {}, ...items), height: at.y - y + 1.6 * small }
}

/** The figure in words, from its data. */
function descriptionOf(
  { groups, specimens, verdict }: Comparison,
  { per, unit }: { per: number; unit: string },
): string {
  const rows = groups.map(g => {
    const values = specimens.filter(s => s.group === g.name && s.value !== null && s.dropped === null)
    const figures = values.map(
      s => `${s.status === 'at-least' ? 'at least ' : ''}${threeDigits(s.value! / per)}`,
    )
    const listed =
      figures.length > 20
        ? `${figures.length} values from ${threeDigits((g.min ?? 0) / per)} to ${threeDigits((g.max ?? 0) / per)}`
        : figures.join(', ')
    const mean =
      g.mean === null
        ? ''
        : `; mean ${withUnit(threeDigits(g.mean / per), unit)}${g.ci95 === null ? '' : `, 95 % interval ${threeDigits(g.ci95[0] / per)} to ${threeDigits(g.ci95[1] / per)}`}`
    return `${g.name}: ${listed}${mean}.`
  })
  return `Every specimen is a dot, with the mean and its interval beneath. ${rows.join(' ')} ${verdict}`
}

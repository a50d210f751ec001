import { scaleLinear } from 'd3-scale'
import { answerIn } from '../../core/answer/answerOf.ts'
import { isNeverBelowZero } from '../../core/answer/words.ts'
import { saysPractice } from '../../core/reading/practice.ts'
import { quantityWords } from '../../core/statistics/compare/quantity.ts'
import { list, type Scale } from '../../core/statistics/compare/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { bottomAxis, bottomAxisPx } from './axes.ts'
import { dotsDescription } from './dotsDescription.ts'
import { dotsRow } from './dotsRow.ts'
import { footLines, headLines } from './headLines.ts'
import { LIGHT, type Look } from './look.ts'
import { modeLegend } from './modeLegend.ts'
import { modesOf } from './modes.ts'
import { isNarrow } from './shape.ts'
import { line, px, type Svg, svgDocument, tag } from './svg.ts'

export interface CompareFigureOptions {
  readonly shown?: Scale['shown']
  readonly look?: Look
  readonly width?: number
  readonly height?: number | null
  /** What stands over it; `null` where it stands beside. */
  readonly headline?: string | null
  /** Lines under it, a paragraph each, the weightiest first; the last of them always stays. */
  readonly under?: readonly string[]
  /** Small line over the headline. */
  readonly question?: string
}

/**
 * The ranking as a figure: a row for each group, best first, every specimen as a mark with its own doubt, and beneath them
 * the mean with its 95 % interval and how far it is ahead of the next.
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
    headline = answerIn(comparison).headline,
    under = [],
    question = '',
  }: CompareFigureOptions = {},
): string {
  const { groups, specimens, quantity } = comparison
  const { small, heading } = look.size
  const narrow = isNarrow(width, look)
  const per = shown?.per ?? 1
  const unit = shown?.unit ?? comparison.unit
  const edge = narrow ? 12 : 24
  const plot = narrow
    ? { left: edge + 8, right: width - edge - 8 }
    : { left: 12.5 * small, right: width - 10.8 * small }
  const asked = footLines(question, { x: edge, y: 12 + small, width: width - 2 * edge, look })
  const askedHeight = question === '' ? 0 : asked.height + 4
  const head = headLines(headline ?? '', {
    x: edge,
    y: 20 + askedHeight + heading,
    width: width - 2 * edge,
    look,
    size: heading,
  })
  const modes = modesOf(comparison)
  const neverBelow = isNeverBelowZero(quantity, specimens)
  const x = scaleLinear(rangeOf(comparison, per, neverBelow), [plot.left, plot.right]).nice()
  const { ranking } = answerIn(comparison)
  const rows = ranking.flatMap(ranked => {
    const index = groups.findIndex(({ name }) => name === ranked.name)
    const group = groups[index]
    return group === undefined
      ? []
      : [dotsRow(group, { ranked, specimens, index, modes, x, per, neverBelow, look, width, edge, narrow })]
  })
  // A narrow figure is shown where height is dear.
  const headBottom = headline !== null ? (narrow ? 4 : 20) + askedHeight + heading + head.height : 20
  const legend = modeLegend(modes, {
    x: narrow ? edge : plot.left,
    y: headBottom + 4,
    toX: width - edge,
    look,
  })
  const top = headBottom + (legend === null ? 0 : legend.height) - (narrow ? 8 : 0)
  const own = rows.reduce((sum, r) => sum + r.height, 0)
  const lines = under.map(text => footLines(text, { x: edge, y: 0, width: width - 2 * edge, look }))
  const footOf = (said: readonly (typeof lines)[number][]): number =>
    bottomAxisPx(look) +
    12 +
    (said.length === 0 ? 0 : said.reduce((sum, { height }) => sum + height + 0.3 * small, 0.4 * small))
  const said = fewerThatFit(lines, all => wantedHeight === null || top + own + footOf(all) <= wantedHeight)
  const foot = footOf(said)
  const spare = Math.max(0, ((wantedHeight ?? 0) - top - own - foot) / Math.max(1, rows.length))
  const tops = rows.map(
    (_, i) => top + spare * (i + 0.5) + rows.slice(0, i).reduce((sum, r) => sum + r.height, 0),
  )
  const bottom = top + own + spare * rows.length
  const { noun } = quantityWords(quantity)
  return svgDocument(
    {
      width,
      height: bottom + foot,
      shapeHeight: wantedHeight,
      title: `${capital(noun)} of ${list(groups.map(g => g.name))}`,
      description: dotsDescription(comparison, { per, unit }),
      look,
      practice: saysPractice(comparison),
    },
    question === '' ? null : asked.svg,
    head.svg,
    legend?.svg ?? null,
    ...x.ticks(8).map(v => line(x(v), top, x(v), bottom, { stroke: look.rule })),
    ...rows.map((row, i) => tag('g', { transform: `translate(0 ${px(tops[i]!)})` }, row.svg)),
    bottomAxis(x, bottom, {
      look,
      label: unit === '' ? noun : `${noun}, ${unit}`,
      frameWidth: width,
    }),
    ...underSaid(said, bottom + bottomAxisPx(look) + 12 + small, small),
  )
}

/** The last stays, and of those before it the first that have room: where none has, the picture is shown smaller. */
function fewerThatFit<T>(lines: readonly T[], fits: (lines: readonly T[]) => boolean): readonly T[] {
  const last = lines.at(-1)
  if (last === undefined) return lines
  for (let n = lines.length - 1; n > 1; n--) {
    const fewer = [...lines.slice(0, n), last]
    if (fits(fewer)) return fewer
  }
  return [...lines.slice(0, Math.min(1, lines.length - 1)), last]
}

/** Paragraphs under one another. */
function underSaid(said: readonly { svg: Svg; height: number }[], top: number, small: number): Svg[] {
  let y = top
  return said.map(({ svg, height }) => {
    const placed = tag('g', { transform: `translate(0 ${px(y)})` }, svg)
    y += height + 0.3 * small
    return placed
  })
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

function rangeOf({ specimens, groups }: Comparison, per: number, neverBelow: boolean): [number, number] {
  const all = [
    ...specimens.flatMap(s => [s.value, s.low, s.high]),
    ...groups.flatMap(g => [...(g.ci95 ?? [])]),
  ].flatMap(v => (v === null ? [] : [(neverBelow ? Math.max(0, v) : v) / per]))
  if (all.length === 0) return [0, 1]
  const [low, high] = [Math.min(...all), Math.max(...all)]
  const room = high > low ? (high - low) * 0.06 : Math.abs(high) * 0.1 || 1
  return [neverBelow ? Math.max(0, low - room) : low - room, high + room]
}

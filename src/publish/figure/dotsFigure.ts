import { scaleLinear } from 'd3-scale'
import { answerIn } from '../../core/answer/answerOf.ts'
import { intervalOf } from '../../core/answer/standing.ts'
import { isNeverBelowZero } from '../../core/answer/words.ts'
import { quantityWords } from '../../core/statistics/compare/quantity.ts'
import { list, type Scale } from '../../core/statistics/compare/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { bottomAxis, bottomAxisPx } from './axes.ts'
import { dotsDescription } from './dotsDescription.ts'
import { dotsRow } from './dotsRow.ts'
import { headLines } from './headLines.ts'
import { LIGHT, type Look } from './look.ts'
import { modeLegend } from './modeLegend.ts'
import { modesOf } from './modes.ts'
import { isNarrow } from './shape.ts'
import { line, px, svgDocument, tag } from './svg.ts'

export interface CompareFigureOptions {
  readonly shown?: Scale['shown']
  readonly look?: Look
  readonly width?: number
  readonly height?: number | null
  /** What stands over it; `null` where it stands beside. */
  readonly headline?: string | null
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
    headline = answerIn(comparison).headline,
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
  const head = headLines(headline ?? '', {
    x: edge,
    y: 20 + heading,
    width: width - 2 * edge,
    look,
    size: heading,
  })
  const modes = modesOf(comparison)
  const neverBelow = isNeverBelowZero(quantity, specimens)
  const x = scaleLinear(rangeOf(comparison, per, neverBelow), [plot.left, plot.right]).nice()
  const rows = groups.map((group, index) =>
    dotsRow(group, { specimens, index, modes, x, per, neverBelow, look, width, edge, narrow }),
  )
  const headBottom = headline !== null ? 20 + heading + head.height : 20
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
  const said = quantityWords(quantity)
  return svgDocument(
    {
      width,
      height: bottom + foot,
      shapeHeight: wantedHeight,
      title: `${capital(said.noun)} of ${list(groups.map(g => g.name))}`,
      description: dotsDescription(comparison, { per, unit }),
      look,
    },
    head.svg,
    legend?.svg ?? null,
    ...x.ticks(8).map(v => line(x(v), top, x(v), bottom, { stroke: look.rule })),
    ...rows.map((row, i) => tag('g', { transform: `translate(0 ${px(tops[i]!)})` }, row.svg)),
    bottomAxis(x, bottom, {
      look,
      label: unit === '' ? said.noun : `${said.noun}, ${unit}`,
      frameWidth: width,
    }),
  )
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

function rangeOf({ specimens, groups }: Comparison, per: number, neverBelow: boolean): [number, number] {
  const all = [
    ...specimens.flatMap(s => [s.value, s.low, s.high]),
    ...groups.flatMap(g => [...(intervalOf(g) ?? [])]),
  ].flatMap(v => (v === null ? [] : [(neverBelow ? Math.max(0, v) : v) / per]))
  if (all.length === 0) return [0, 1]
  const [low, high] = [Math.min(...all), Math.max(...all)]
  const room = high > low ? (high - low) * 0.06 : Math.abs(high) * 0.1 || 1
  return [neverBelow ? Math.max(0, low - room) : low - room, high + room]
}

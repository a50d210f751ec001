import type { ScaleLinear } from 'd3-scale'
import type { RankedVariant } from '../../core/answer/document.ts'
import { differenceWords, doubtedWords, placeWords } from '../../core/answer/words.ts'
import type { ComparedGroup, ComparedSpecimen } from '../../core/statistics/document.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import { lineOf } from './headLines.ts'
import { type Look, variantLine } from './look.ts'
import { modeMark } from './modeMark.ts'
import { line, rim, type Svg, tag, words } from './svg.ts'
import { fitted, nameLines, textWidth } from './textWidth.ts'

export interface DotsRowOptions {
  readonly ranked: RankedVariant
  readonly specimens: readonly ComparedSpecimen[]
  readonly index: number
  readonly modes: readonly (string | null)[]
  readonly x: ScaleLinear<number, number>
  readonly per: number
  /** The quantity cannot be below nothing: no interval is drawn there. */
  readonly neverBelow: boolean
  readonly look: Look
  readonly width: number
  readonly edge: number
  /** The name stands over the row, not beside it. */
  readonly narrow: boolean
}

const dotPx = ({ size }: Look): number => 0.42 * size.small

/** The row of a group: its name, its specimens as marks, stacked where they would cover one another, the mean beneath. */
export function dotsRow(group: ComparedGroup, options: DotsRowOptions): { svg: Svg; height: number } {
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
  const intervalY = dotsY + (narrow ? 1.4 : 2.5) * small
  const ahead = differenceWords(options.ranked.difference, { unit: '', per })
  const aheadY = intervalY + 1.4 * small
  const height = Math.max(
    narrow ? 0 : 7 * small,
    (ahead === '' ? intervalY : aheadY) + (narrow ? 0.9 : 1.2) * small,
  )
  const place = placeWords(options.ranked.place)
  const name = place === '' ? group.name : `${place}  ${group.name}`
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
          ...rim(look),
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
      ...(narrow ? [fitted(name, nameWidth, label + 1)] : nameLines(name, nameWidth, label + 1)).map(
        (text, i) =>
          words(edge, (narrow ? label : dotsY + 5) + i * lineOf(label + 1), text, {
            'font-weight': 700,
            'font-size': label + 1,
            fill: colour,
            ...rim(look),
          }),
      ),
      ahead === ''
        ? null
        : words(
            narrow ? edge : x.range()[0]!,
            aheadY,
            fitted(ahead, width - edge - (narrow ? edge : x.range()[0]!), small),
            { 'font-size': small, fill: look.pencil, ...rim(look) },
          ),
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
  { x, per, neverBelow, modes, look }: DotsRowOptions,
): Svg {
  const at = x(s.value! / per)
  const [low, high] = [s.low ?? s.value!, s.high ?? s.value!].map(v =>
    x((neverBelow ? Math.max(0, v) : v) / per),
  ) as [number, number]
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
  { x, per, neverBelow, look, index, width, edge }: DotsRowOptions,
): Svg | null {
  const { colour, dashes } = variantLine(look, index)
  const ends = group.ci95
  if (group.mean === null) return null
  const at = x(group.mean / per)
  if (ends === null) return line(at, y - 8, at, y + 8, { stroke: colour, 'stroke-width': 2 })
  const [low, high] = [x((neverBelow ? Math.max(0, ends[0]) : ends[0]) / per), x(ends[1] / per)]
  const text = doubtedWords(
    { middle: group.mean, low: ends[0], high: ends[1] },
    { unit: '', per },
    neverBelow,
  )
  const room = textWidth(text, look.size.small)
  const side: { readonly x: number; readonly y: number; readonly anchor: 'start' | 'end' } =
    high + 10 + room <= width - edge
      ? { x: high + 10, y: y + 4, anchor: 'start' }
      : low - 10 - room >= edge
        ? { x: low - 10, y: y + 4, anchor: 'end' }
        : // An interval as wide as the plot has room over itself alone, at its mean.
          at + 12 + room <= width - edge
          ? { x: at + 12, y: y - 6, anchor: 'start' }
          : { x: at - 12, y: y - 6, anchor: 'end' }
  return tag(
    'g',
    {},
    line(low, y, high, y, { stroke: colour, 'stroke-width': 2.5, 'stroke-dasharray': dashes || undefined }),
    line(low, y - 5, low, y + 5, { stroke: colour, 'stroke-width': 1.5 }),
    line(high, y - 5, high, y + 5, { stroke: colour, 'stroke-width': 1.5 }),
    line(at, y - 9, at, y + 9, { stroke: colour, 'stroke-width': 2.5 }),
    words(side.x, side.y, text, {
      'font-size': look.size.small,
      fill: look.ink,
      ...rim(look),
      'text-anchor': side.anchor,
    }),
  )
}

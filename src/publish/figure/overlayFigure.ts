import { type ScaleLinear, scaleLinear } from 'd3-scale'
import { curveOrigins } from '../../core/reading/curveOrigins.ts'
import type { Reading } from '../../core/reading/document.ts'
import { type JoinedCurve, joinedCurve } from '../../core/reading/joinedCurve.ts'
import { saysPractice, withPractice } from '../../core/reading/practice.ts'
import type { Recording } from '../../core/recording.ts'
import { thinned } from '../../core/signal/thin.ts'
import { list, type Scale } from '../../core/statistics/compare/words.ts'
import { type OwnScale, ownScaleOf } from '../../core/units/force.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import { bottomAxis, bottomAxisPx, sideAxis, sideRoomPx } from './axes.ts'
import { apart, gapIn, headLines, lineOf } from './headLines.ts'
import { LIGHT, type Look, variantLine } from './look.ts'
import { isNarrow } from './shape.ts'
import { line, px, type Svg, svgDocument, tag, words } from './svg.ts'
import { fitted, nameLines } from './textWidth.ts'

export interface OverlayCurve {
  readonly recording: Recording
  readonly reading: Reading
  readonly group: string
  readonly name: string
}

export interface OverlayOptions {
  /** Where the curves are put together. */
  readonly align: 'start' | 'peak' | 'break'
  readonly shown?: Scale['shown']
  /** What stands over it, instead of how many curves there are. */
  readonly headline?: string | null
  /** One specimen among the others: its curve strong, the others faint. */
  readonly strong?: string | null
  readonly look?: Look
  readonly width?: number
  readonly height?: number | null
}

/** What all but one curve are called where one stands out. */
const OTHERS = 'the others'

const AGAINST = {
  extension: 'extension, mm',
  travel: 'travel, mm',
  'loading-time': 'loading time, s',
} as const

interface Drawn {
  readonly group: string
  readonly name: string
  readonly along: Float64Array
  readonly forceN: Float64Array
}

/** Forces where there are any, else the own scale of the first log: unlike scales share no axis. */
const scaleOf = (curves: readonly OverlayCurve[]): OwnScale | null => {
  const scales = curves.map(({ reading }) => ownScaleOf(reading.recording.forceUnit))
  return scales.includes(null) ? null : (scales[0] ?? null)
}

/** Practice is a group of its own, and says so at each curve. */
const marked = (curve: OverlayCurve): OverlayCurve => ({
  ...curve,
  group: withPractice(curve.group, curve.reading),
  name: withPractice(curve.name, curve.reading),
})

/**
 * The curves of all specimens over one another, put together at the start of loading, at the peak or at the break.
 * Force against extension where every curve has it, else against loading time. A group has one line pattern and a
 * label of its own at the right, with a stroke of it.
 */
export function overlayFigure(
  all: readonly OverlayCurve[],
  {
    align,
    shown = null,
    headline = null,
    strong: strongName = null,
    look = LIGHT,
    width = 960,
    height: wantedHeight = null,
  }: OverlayOptions,
): string {
  const given = all.map(marked)
  const strong = given[all.findIndex(({ name }) => name === strongName)]?.name ?? null
  const own = scaleOf(given)
  const curves = given.filter(({ reading }) => ownScaleOf(reading.recording.forceUnit) === own)
  const height = wantedHeight ?? 600
  const { small, heading, label } = look.size
  const narrow = isNarrow(width, look)
  const edge = narrow ? 12 : 24
  const groups = [...new Set(curves.map(c => c.group))]
  const title = `${curves.length} curve${curves.length === 1 ? '' : 's'} of ${list(groups)}`
  const head = headLines(headline ?? title, {
    x: edge,
    y: 18 + heading,
    width: width - 2 * edge,
    look,
    size: heading,
  })
  const per = own === null ? (shown?.per ?? 1) : 1
  const unit = own ?? shown?.unit ?? 'N'
  const { drawn, against } = alignedCurves(curves, align, width)
  const [lowN, highN] = extent(drawn.map(d => d.forceN))
  const plot = {
    left: Math.max(
      narrow ? 3.6 * small : 6 * small,
      sideRoomPx([Math.min(0, lowN) / per, highN / per], look),
    ),
    right: width - (narrow ? 7.2 : 13) * small,
    top: 32 + heading + label + 2 * small + head.height - lineOf(heading),
    bottom: height - bottomAxisPx(look) - small,
  }
  const x = scaleLinear(extent(drawn.map(d => d.along)), [plot.left, plot.right]).nice()
  const y = scaleLinear([Math.min(0, lowN) / per, highN / per], [plot.bottom, plot.top]).nice()
  const labelled = strong === null ? groups : drawn.length > 1 ? [strong, OTHERS] : [strong]
  return svgDocument(
    {
      width,
      height,
      shapeHeight: wantedHeight,
      title,
      description: descriptionOf(curves, groups, align, { per, unit }),
      look,
      practice: curves.some(({ reading }) => saysPractice(reading)),
    },
    head.svg,
    words(
      edge,
      26 + heading + label + head.height - lineOf(heading),
      `Put together at the ${align === 'start' ? 'start of loading' : align}`,
      {
        fill: look.pencil,
      },
    ),
    sideAxis(y, plot.left, { look, label: `force, ${unit}`, ruleLength: plot.right - plot.left }),
    bottomAxis(x, plot.bottom, { look, label: AGAINST[against], frameWidth: width }),
    align === 'start'
      ? null
      : line(x(0), plot.top, x(0), plot.bottom, { stroke: look.faint, 'stroke-dasharray': '2 3' }),
    ...[...drawn]
      .sort((a, b) => Number(a.name === strong) - Number(b.name === strong))
      .map(d => curveLine(d, groups.indexOf(d.group), { x, y, per, look, weight: weightOf(d.name, strong) })),
    ...groupLabels(drawn, labelled, {
      strong,
      x: plot.right + (narrow ? 8 : 14),
      width,
      y,
      per,
      look,
      top: plot.top,
      bottom: plot.bottom,
    }),
  )
}

function alignedCurves(
  curves: readonly OverlayCurve[],
  align: OverlayOptions['align'],
  columns: number,
): { drawn: Drawn[]; against: JoinedCurve['against'] } {
  const own = curves.map(c => joinedCurve(c.recording, c.reading))
  const alike = new Set(own.map(c => c.against)).size === 1
  // Curves with and without extension have only the time in common.
  const used = alike ? own : curves.map(c => joinedCurve(c.recording, c.reading, { againstTime: true }))
  const drawn = used.flatMap((curve, i): Drawn[] => {
    if (curve.along.length === 0) return []
    const { reading, recording, group, name } = curves[i]!
    const from = curveOrigins(curve, recording, reading)[align]
    const { timeS, value } = thinned(curve.along, curve.forceN, columns)
    return [{ group, name, along: timeS.map(v => v - from), forceN: value }]
  })
  return { drawn, against: used[0]?.against ?? 'loading-time' }
}

function extent(lists: readonly Float64Array[]): [number, number] {
  let low = Number.POSITIVE_INFINITY
  let high = Number.NEGATIVE_INFINITY
  for (const values of lists)
    for (const v of values) {
      low = Math.min(low, v)
      high = Math.max(high, v)
    }
  return high > low ? [low, high] : [0, 1]
}

interface Plane {
  readonly y: ScaleLinear<number, number>
  readonly per: number
  readonly look: Look
}

interface Weight {
  readonly widthPx: number
  readonly isFaint: boolean
}

const weightOf = (name: string, strong: string | null): Weight =>
  strong === null
    ? { widthPx: 1.5, isFaint: false }
    : name === strong
      ? { widthPx: 3, isFaint: false }
      : { widthPx: 1, isFaint: true }

function curveLine(
  { along, forceN, name }: Drawn,
  group: number,
  { x, y, per, look, weight }: Plane & { x: ScaleLinear<number, number>; weight: Weight },
): Svg {
  const { colour, dashes } = variantLine(look, group)
  const points = Array.from(along, (at, i) => `${px(x(at))},${px(y(forceN[i]! / per))}`)
  return tag(
    'polyline',
    {
      points: points.join(' '),
      fill: 'none',
      stroke: weight.isFaint ? look.faint : colour,
      'stroke-width': weight.widthPx,
      'stroke-opacity': 0.85,
      'stroke-linejoin': 'round',
      'stroke-dasharray': dashes || undefined,
    },
    tag('title', {}, name),
  )
}

/** Each group's name at the height of its curves' mean peak, under a stroke of its line. */
function groupLabels(
  drawn: readonly Drawn[],
  groups: readonly string[],
  {
    strong,
    x,
    width,
    y,
    per,
    look,
    top,
    bottom,
  }: Plane & { strong: string | null; x: number; width: number; top: number; bottom: number },
): Svg[] {
  const { label } = look.size
  const peaks = groups.map(group => {
    const isIn = ({ name, group: of }: Drawn): boolean =>
      strong === null ? of === group : (name === strong) === (group === strong)
    const own = drawn.filter(isIn).map(d => d.forceN.reduce((a, b) => Math.max(a, b), 0))
    return own.length === 0 ? 0 : own.reduce((a, b) => a + b, 0) / own.length
  })
  const twoLines = 3.4 * label
  const gap = gapIn(groups.length, twoLines, [top + label, bottom - label])
  const places = apart(
    peaks.map(p => Math.max(top + label, y(p / per))),
    gap,
    bottom - label,
  )
  const linesOf = (group: string): string[] =>
    gap < twoLines ? [fitted(group, width - x - 4, label)] : nameLines(group, width - x - 4, label)
  return groups.map((group, i) => {
    const own = variantLine(look, strong === null ? i : 0)
    const isFaint = strong !== null && group !== strong
    const colour = isFaint ? look.pencil : own.colour
    const { dashes } = own
    return tag(
      'g',
      {},
      line(x, places[i]! - label, x + 3 * label, places[i]! - label, {
        stroke: isFaint ? look.faint : colour,
        'stroke-width': isFaint ? 1 : 2.5,
        'stroke-dasharray': dashes || undefined,
      }),
      ...linesOf(group).map((text, k) =>
        words(x, places[i]! + 4 + k * lineOf(label), text, { 'font-weight': 700, fill: colour }),
      ),
    )
  })
}

const descriptionOf = (
  curves: readonly OverlayCurve[],
  groups: readonly string[],
  align: OverlayOptions['align'],
  { per, unit }: { per: number; unit: string },
): string =>
  `Force curves put together at the ${align === 'start' ? 'start of loading' : align}. ${groups
    .map(group => {
      const peaks = curves.flatMap(c =>
        c.group === group && c.reading.results.peakForce.valueN !== null
          ? [threeDigits(c.reading.results.peakForce.valueN / per)]
          : [],
      )
      return peaks.length === 0
        ? `${group}: no peak recorded.`
        : `${group}: peaks of ${peaks.slice(0, 20).join(', ')} ${unit}.`
    })
    .join(' ')}`

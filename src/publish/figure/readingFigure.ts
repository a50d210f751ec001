import { scaleLinear } from 'd3-scale'
import { correctedForce } from '../../core/reading/correctedForce.ts'
import type { Reading } from '../../core/reading/document.ts'
import { peakWords, readingDescription, shownLowN } from '../../core/reading/peakWords.ts'
import { withPractice } from '../../core/reading/practice.ts'
import { selvedge } from '../../core/reading/selvedge.ts'
import type { Recording } from '../../core/recording.ts'
import type { Thinned } from '../../core/signal/pyramid.ts'
import { thinned } from '../../core/signal/thin.ts'
import { fromNewton, isOwnScale, type ShownUnit } from '../../core/units/force.ts'
import { decimalsInWords, plainNumber } from '../../core/units/showForce.ts'
import { bottomAxis, bottomAxisPx, sideAxis, sideLabelEnd, sideRoomPx } from './axes.ts'
import { eventTicks, listedEvents, placedEvents, rowPx, rowsOf } from './eventTicks.ts'
import { footLines, itemLines } from './headLines.ts'
import { LIGHT, type Look } from './look.ts'
import { selvedgePx, selvedgeStrip } from './selvedgeStrip.ts'
import { isNarrow } from './shape.ts'
import { line, px, rim, type Svg, svgDocument, tag, words } from './svg.ts'
import { fitted, textWidth } from './textWidth.ts'

export interface ReadingFigureOptions {
  /** Unit of the left axis and of every figure; newton stands at the right where it is another. */
  readonly unit?: ShownUnit
  readonly look?: Look
  readonly width?: number
  readonly height?: number | null
  /** What the ids in it begin with: of its own where several figures stand on one page. */
  readonly prefix?: string
}

const OWN_HEIGHT = 620
/** Rows of words over the plot take no more than this share of a figure. */
const MOST_FOR_WORDS = 0.25

/**
 * One recording as it was read: raw readings faint, the corrected curve strong, events as labelled ticks, the peak
 * with its doubt, the level that was taken as no load, and the selvedge below. Its `data-` attributes say where time
 * and force lie in it, for a page that lets one look closer.
 */
export function readingFigure(
  recording: Recording,
  reading: Reading,
  {
    unit = 'N',
    look = LIGHT,
    width = 960,
    height: wantedHeight = null,
    prefix = 'selvedge',
  }: ReadingFigureOptions = {},
): string {
  const height = wantedHeight ?? OWN_HEIGHT
  const { small } = look.size
  const narrow = isNarrow(width, look)
  const { startS, endS, name } = reading.recording
  const corrected = correctedForce(recording, reading)
  const stretches = selvedge(recording, reading)
  const gaps = stretches.filter(s => s.kind === 'gap')
  const curve = thinned(recording.timeS, corrected, width, gaps)
  const raw = thinned(recording.timeS, recording.forceN, width, gaps)
  const { peakForce } = reading.results
  const [lowN, highN] = rangeOf(curve.value, raw.value, [peakForce.highN ?? 0, 0])
  const left = Math.round(
    Math.max((narrow ? 3.6 : 6) * small, sideRoomPx([fromNewton(lowN, unit), fromNewton(highN, unit)], look)),
  )
  const right = width - (narrow ? small : 6 * small)
  const head = headOf(reading, {
    title: withPractice(reading.specimen?.name ?? name, reading),
    unit,
    look,
    narrow,
    x: narrow ? 12 : left,
    width,
  })
  const x = scaleLinear([startS, endS > startS ? endS : startS + 1], [left, right])
  const xOf = (timeS: number) => x(timeS)
  const events = placedEvents(reading, {
    xOf,
    unit,
    look,
    fromX: narrow ? 12 : left,
    toX: width - 8,
    short: narrow,
    rows: Math.max(2, Math.min(8, Math.floor((MOST_FOR_WORDS * height) / rowPx(look)))),
  })
  const forceLabel = `force, ${unit}`
  const hasNewtonAxis = unit !== 'N' && !isOwnScale(unit) && !narrow
  // Where the label of an axis lies in the way, the words over the plot stand a row higher.
  const isUnderWords = events.some(
    ({ over, place }) =>
      place &&
      (place.x < sideLabelEnd(forceLabel, left, look) ||
        (hasNewtonAxis && place.row === 0 && place.x + textWidth(over, small) > right)),
  )
  const wordsBottomPx = isUnderWords ? rowPx(look) : 0
  const top = head.bottom + small * 1.5 + Math.max(1, rowsOf(events)) * rowPx(look) + wordsBottomPx
  const footWidth = width - (narrow ? 24 : 2 * left)
  const listed = listedEvents(events)
  const list = (y: number) => itemLines(listed, { x: narrow ? 12 : left, y, width: footWidth, look })
  const listHeight = list(0).height
  const footHeight = listHeight + footLines(footnote(reading), { x: 0, y: 0, width: footWidth, look }).height
  const selvedgeHeight = selvedgePx(look)
  const bottom = Math.max(top + 120, height - footHeight - bottomAxisPx(look) - selvedgeHeight - 18)
  const yN = scaleLinear([lowN, highN], [bottom, top]).nice()
  const [y0 = 0, y1 = 1] = yN.domain()
  const yUnit = scaleLinear([fromNewton(y0, unit), fromNewton(y1, unit)], [bottom, top])
  const yOf = (forceN: number) => yN(forceN)
  const selvedgeY = bottom + 6
  const axisY = selvedgeY + selvedgeHeight + 4
  const foot = footLines(footnote(reading), {
    x: narrow ? 12 : left,
    y: axisY + bottomAxisPx(look) + small + listHeight,
    width: footWidth,
    look,
  })

  return svgDocument(
    {
      width,
      height: wantedHeight === null ? height : axisY + bottomAxisPx(look) + listHeight + foot.height + 8,
      shapeHeight: wantedHeight,
      title: `${withPractice(reading.specimen?.name ?? name, reading)}: ${peakWords(peakForce, unit)}`,
      description: readingDescription(reading, unit),
      look,
      data: {
        'data-plot': [left, right, top, bottom].map(px).join(' '),
        'data-time': x.domain().join(' '),
        'data-force': `${y0} ${y1}`,
      },
    },
    head.svg,
    sideAxis(yUnit, left, { look, label: forceLabel, ruleLength: right - left }),
    hasNewtonAxis ? sideAxis(yN, right, { look, label: 'newton', side: 'right' }) : null,
    tag('g', { 'data-part': 'time' }, bottomAxis(x, axisY, { look, label: 'time, s', frameWidth: width })),
    line(left, yOf(0), right, yOf(0), { stroke: look.ink, 'stroke-width': 0.75 }),
    path(raw, xOf, yOf, { 'data-part': 'raw', stroke: look.faint, 'stroke-width': 1 }),
    path(curve, xOf, yOf, {
      'data-part': 'curve',
      stroke: look.accent,
      'stroke-width': narrow ? 2.5 : 2,
      'stroke-linejoin': 'round',
    }),
    noLoadMarks(reading, { xOf, yOf, unit, look, shownFromN: 0.01 * (highN - lowN), left, right, bottom }),
    peakMark(reading, { xOf, yOf, look }),
    eventTicks(events, { xOf, yOf, top: top - wordsBottomPx, look }),
    selvedgeStrip(stretches, { xOf, left, right, y: selvedgeY, look, prefix }),
    list(axisY + bottomAxisPx(look) + small).svg,
    foot.svg,
  )
}

/** The specimen's name, its peak in large figures, and the same in newton. */
function headOf(
  { results: { peakForce } }: Reading,
  {
    title,
    unit,
    look,
    narrow,
    x,
    width,
  }: { title: string; unit: ShownUnit; look: Look; narrow: boolean; x: number; width: number },
): { svg: Svg; bottom: number } {
  const { heading, numeral, label } = look.size
  const figure = peakWords(peakForce, unit)
  // What is longer than a figure with its doubt is set smaller rather than run off the edge.
  const size = Math.min(numeral, (numeral * (width - x - 12)) / textWidth(figure, numeral))
  const inNewton =
    unit === 'N' || isOwnScale(unit) || peakForce.valueN === null
      ? 'peak force'
      : `peak force, ${peakWords(peakForce, 'N')}`
  const titleY = 14 + heading
  const figureY = titleY + 8 + numeral
  const beside = !narrow && x + textWidth(figure, size) + 16 + textWidth(inNewton, label) < width
  const bottom = beside ? figureY : figureY + Math.round(1.4 * label)
  return {
    bottom,
    svg: tag(
      'g',
      {},
      words(x, titleY, fitted(title, width - x - 12, heading), { 'font-size': heading, 'font-weight': 700 }),
      words(x, figureY, figure, { 'font-size': size, 'font-weight': 700 }),
      words(beside ? x + textWidth(figure, size) + 16 : x, bottom, inNewton, { fill: look.pencil }),
    ),
  }
}

interface PlaneOptions {
  readonly xOf: (timeS: number) => number
  readonly yOf: (forceN: number) => number
  readonly look: Look
}

function rangeOf(...lists: readonly ArrayLike<number>[]): [number, number] {
  let low = Number.POSITIVE_INFINITY
  let high = Number.NEGATIVE_INFINITY
  for (const list of lists) {
    for (let i = 0; i < list.length; i++) {
      const value = list[i]!
      if (value < low) low = value
      if (value > high) high = value
    }
  }
  return high > low ? [low, high] : [low - 1, high + 1]
}

/** A curve; it is broken where a value is NaN. */
function path(
  { timeS, value }: Thinned,
  xOf: (timeS: number) => number,
  yOf: (forceN: number) => number,
  given: Readonly<Record<string, string | number>>,
): Svg {
  let d = ''
  let pen = 'M'
  for (let i = 0; i < value.length; i++) {
    if (Number.isNaN(value[i]!)) {
      pen = 'M'
      continue
    }
    d += `${pen}${px(xOf(timeS[i]!))} ${px(yOf(value[i]!))}`
    pen = 'L'
  }
  return tag('path', { d, fill: 'none', ...given })
}

/** Where the indicator did not read zero without load: the level it read, and that it was taken as the zero. */
function noLoadMarks(
  reading: Reading,
  {
    xOf,
    yOf,
    unit,
    look,
    shownFromN,
    left,
    right,
    bottom,
  }: PlaneOptions & {
    unit: ShownUnit
    shownFromN: number
    left: number
    right: number
    bottom: number
  },
): Svg {
  const rests = reading.zeros.filter(zero => zero.basis === 'rest' && Math.abs(zero.levelN) > shownFromN)
  const marks = rests.flatMap((zero, i) => {
    const from = xOf(zero.fromS)
    const y = yOf(zero.levelN)
    const level = line(from, y, Math.max(xOf(zero.toS), from + 12), y, {
      stroke: look.warning,
      'stroke-width': 2,
      'stroke-dasharray': '5 3',
      'data-from': zero.fromS.toFixed(3),
      'data-to': zero.toS.toFixed(3),
    })
    // The same level again needs no second label.
    const before = rests[i - 1]
    if (before && Math.abs(before.levelN - zero.levelN) < shownFromN) return [level]
    const decimals = decimalsInWords(
      fromNewton(zero.uncertaintyN, unit),
      fromNewton(reading.results.peakForce.valueN ?? 0, unit),
    )
    const text = `no load read ${plainNumber(fromNewton(zero.levelN, unit), decimals)} ${unit}: taken as zero`
    const x = Math.max(left, Math.min(from, right - textWidth(text, look.size.small)))
    return [
      level,
      words(x, zero.levelN < 0 && y + look.size.small + 6 < bottom ? y + look.size.small + 3 : y - 7, text, {
        fill: look.warning,
        'font-size': look.size.small,
        ...rim(look),
        'data-at': zero.fromS.toFixed(3),
      }),
    ]
  })
  return tag('g', {}, ...marks)
}

/** The peak as an open ring on the curve with its interval as an upright bar. */
function peakMark(reading: Reading, { xOf, yOf, look }: PlaneOptions): Svg | null {
  const { atS, valueN, highN } = reading.results.peakForce
  if (atS === null || valueN === null) return null
  const lowN = shownLowN(reading.results.peakForce)
  const x = xOf(atS)
  const bar = { stroke: look.ink, 'stroke-width': 1.5 }
  return tag(
    'g',
    { 'data-at': atS.toFixed(3) },
    ...(lowN === null || highN === null
      ? []
      : [
          line(x, yOf(lowN), x, yOf(highN), bar),
          line(x - 4, yOf(lowN), x + 4, yOf(lowN), bar),
          line(x - 4, yOf(highN), x + 4, yOf(highN), bar),
        ]),
    tag('circle', { cx: x, cy: yOf(valueN), r: 4.5, fill: look.paper, ...bar }),
  )
}

function footnote({ recording, warnings }: Reading): string {
  const scale = warnings.some(w => w.code === 'not-calibrated')
    ? 'scale not checked; the doubt covers the reading only'
    : 'scale checked'
  return `${recording.samples} readings, ${recording.rateHz.toPrecision(3)} a second · ${scale} · for comparison, not for rating gear`
}

import { scaleLinear } from 'd3-scale'
import { correctedForce } from '../../core/reading/correctedForce.ts'
import type { Reading } from '../../core/reading/document.ts'
import { peakWords, readingDescription } from '../../core/reading/peakWords.ts'
import { selvedge } from '../../core/reading/selvedge.ts'
import type { Recording } from '../../core/recording.ts'
import type { Thinned } from '../../core/signal/pyramid.ts'
import { thinned } from '../../core/signal/thin.ts'
import { type ForceUnit, fromNewton } from '../../core/units/force.ts'
import { decimalsFor, plainNumber } from '../../core/units/showForce.ts'
import { bottomAxis, sideAxis } from './axes.ts'
import { eventTicks, placedEvents, ROW_PX, rowsOf } from './eventTicks.ts'
import { LIGHT, type Look, SIZE } from './look.ts'
import { SELVEDGE_PX, selvedgePatterns, selvedgeStrip } from './selvedgeStrip.ts'
import { line, px, type Svg, svgDocument, tag, textWidth, words } from './svg.ts'

export interface ReadingFigureOptions {
  /** Unit of the left axis and of every figure; newton stands at the right where it is another. */
  readonly unit?: ForceUnit
  readonly look?: Look
  readonly width?: number
  readonly height?: number
}

const NUMERAL = SIZE.numeral - 8
const MARGIN = { left: 72, right: 72, top: 92, bottom: 96 } as const

/**
 * One recording as it was read: raw readings faint, the corrected curve strong, events as labelled ticks, the peak
 * with its doubt, the level that was taken as no load, and the selvedge below.
 */
export function readingFigure(
  recording: Recording,
  reading: Reading,
  { unit = 'N', look = LIGHT, width = 960, height = 620 }: ReadingFigureOptions = {},
): string {
  const { startS, endS, name } = reading.recording
  const [left, right, bottom] = [MARGIN.left, width - MARGIN.right, height - MARGIN.bottom]
  const x = scaleLinear([startS, endS > startS ? endS : startS + 1], [left, right])
  const xOf = (timeS: number) => x(timeS)
  const events = placedEvents(reading, { xOf, unit, fromX: left, toX: width - 8 })
  const top = MARGIN.top + Math.max(1, rowsOf(events)) * ROW_PX
  const corrected = correctedForce(recording, reading)
  const stretches = selvedge(recording, reading)
  const gaps = stretches.filter(s => s.kind === 'gap')
  const curve = thinned(recording.timeS, corrected, right - left, gaps)
  const raw = thinned(recording.timeS, recording.forceN, right - left, gaps)
  const { peakForce } = reading.results
  const [lowN, highN] = rangeOf(curve.value, raw.value, [peakForce.highN ?? 0, 0])
  const yN = scaleLinear([lowN, highN], [bottom, top]).nice()
  const [y0 = 0, y1 = 1] = yN.domain()
  const yUnit = scaleLinear([fromNewton(y0, unit), fromNewton(y1, unit)], [bottom, top])
  const yOf = (forceN: number) => yN(forceN)
  const title = reading.specimen?.name ?? name
  const selvedgeY = bottom + 6

  return svgDocument(
    {
      width,
      height,
      title: `${title}: ${peakWords(peakForce, unit)}`,
      description: readingDescription(reading, unit),
      look,
    },
    selvedgePatterns(look),
    words(left, 34, title, { 'font-size': SIZE.heading, 'font-weight': 700 }),
    words(left, 74, peakWords(peakForce, unit), { 'font-size': NUMERAL, 'font-weight': 700 }),
    words(
      left + textWidth(peakWords(peakForce, unit), NUMERAL) + 16,
      74,
      unit === 'N' || peakForce.valueN === null ? 'peak force' : `peak force, ${peakWords(peakForce, 'N')}`,
      { fill: look.pencil },
    ),
    sideAxis(yUnit, left, { look, label: `force, ${unit}`, ruleLength: right - left }),
    unit === 'N' ? null : sideAxis(yN, right, { look, label: 'newton', side: 'right' }),
    bottomAxis(x, selvedgeY + SELVEDGE_PX + 4, { look, label: 'time, s' }),
    line(left, yOf(0), right, yOf(0), { stroke: look.ink, 'stroke-width': 0.75 }),
    path(raw, xOf, yOf, { stroke: look.faint, 'stroke-width': 1 }),
    path(curve, xOf, yOf, { stroke: look.accent, 'stroke-width': 2, 'stroke-linejoin': 'round' }),
    noLoadMarks(reading, { xOf, yOf, unit, look, shownFromN: 0.01 * (highN - lowN), right }),
    peakMark(reading, { xOf, yOf, look }),
    eventTicks(events, { xOf, yOf, top, look }),
    selvedgeStrip(stretches, { xOf, y: selvedgeY, look }),
    words(left, height - 14, footnote(reading), { 'font-size': SIZE.small, fill: look.pencil }),
  )
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
    right,
  }: PlaneOptions & { unit: ForceUnit; shownFromN: number; right: number },
): Svg {
  const rests = reading.zeros.filter(zero => zero.basis === 'rest' && Math.abs(zero.levelN) > shownFromN)
  const marks = rests.flatMap((zero, i) => {
    const from = xOf(zero.fromS)
    const y = yOf(zero.levelN)
    const level = line(from, y, Math.max(xOf(zero.toS), from + 12), y, {
      stroke: look.warning,
      'stroke-width': 2,
      'stroke-dasharray': '5 3',
    })
    // The same level again needs no second label.
    const before = rests[i - 1]
    if (before && Math.abs(before.levelN - zero.levelN) < shownFromN) return [level]
    const decimals = Math.min(decimalsFor(fromNewton(zero.uncertaintyN, unit)), 2)
    const text = `no load read ${plainNumber(fromNewton(zero.levelN, unit), decimals)} ${unit}: taken as zero`
    const x = Math.min(from, right - textWidth(text, SIZE.small))
    return [
      level,
      words(x, y + (zero.levelN < 0 ? 15 : -7), text, { fill: look.warning, 'font-size': SIZE.small }),
    ]
  })
  return tag('g', {}, ...marks)
}

/** The peak as an open ring on the curve with its interval as an upright bar. */
function peakMark(reading: Reading, { xOf, yOf, look }: PlaneOptions): Svg | null {
  const { atS, valueN, lowN, highN } = reading.results.peakForce
  if (atS === null || valueN === null) return null
  const x = xOf(atS)
  const bar = { stroke: look.ink, 'stroke-width': 1.5 }
  return tag(
    'g',
    {},
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

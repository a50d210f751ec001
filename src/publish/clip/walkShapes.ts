import { scaleLinear } from 'd3-scale'
import { STRETCH_WORDS } from '../../core/reading/selvedge.ts'
import { firstAfter } from '../../core/signal/search.ts'
import { fromNewton, type ShownUnit } from '../../core/units/force.ts'

import { axisText } from '../figure/axisText.ts'
import type { Look } from '../figure/look.ts'
import { brokenTo, textWidth } from '../figure/textWidth.ts'
import type { Area } from './area.ts'
import { selvedgeShapes } from './selvedgeShapes.ts'
import type { Shape, Words } from './shapes.ts'
import type { ClipTrack, Curve } from './track.ts'
import type { WalkStep } from './walkSteps.ts'

/** A curve with the steps in which it is told. */
export interface Walk {
  readonly track: ClipTrack
  /** The readings as the log has them. */
  readonly raw: Curve
  /** Levels that were read with no load on the specimen. */
  readonly rests: readonly { readonly fromS: number; readonly toS: number; readonly levelN: number }[]
  readonly steps: readonly WalkStep[]
}

export interface WalkLook {
  readonly width: number
  readonly height: number
  readonly look: Look
}

/**
 * One step as a picture: the sentence over the curve as far as it has been told, the raw record faint below
 * it. `drawnToS` may lie before the step's own end while the curve grows towards it.
 */
export function walkShapes(
  walk: Walk,
  index: number,
  { width, height, look }: WalkLook,
  drawnToS = walk.steps[index]!.toS,
): Shape[] {
  const step = walk.steps[index]!
  const u = Math.min(width, height) / 1080
  const margin = 64 * u
  const inner = width - 2 * margin
  const size = 40 * u
  const lines = brokenTo(step.sentence, inner, size)
  const headHeight = margin + 44 * u + lines.length * 50 * u
  const strip = 30 * u
  const plot: Area = {
    x: margin + 84 * u,
    y: headHeight + 70 * u,
    width: inner - 84 * u,
    height: height - margin - 110 * u - strip - (headHeight + 70 * u),
  }
  const axes = axesOf(walk, plot)
  const pen: Pen = { look, u, ...axes, plot }
  const done = drawnToS >= step.toS
  return [
    { kind: 'box', x: 0, y: 0, width, height, radius: 0, colour: look.paper, opacity: 1 },
    words(`${walk.track.name}, ${index + 1} of ${walk.steps.length}`, margin, margin + 16 * u, {
      size: 26 * u,
      colour: look.pencil,
    }),
    ...lines.map((line, i) =>
      words(line, margin, margin + 76 * u + i * 50 * u, { size, colour: look.ink, bold: true }),
    ),
    ...axisShapes(walk.track.unit, pen),
    ...rawShapes(walk, step, pen),
    ...(step.kind === 'raw' ? [] : restShapes(walk, step, pen)),
    ...(step.kind === 'raw' ? [] : toldShapes(walk, drawnToS, pen)),
    ...selvedgeShapes(walk.track.stretches, {
      xOf: axes.xOf,
      untilS: step.kind === 'raw' ? Number.NEGATIVE_INFINITY : drawnToS,
      y: plot.y + plot.height + 10 * u,
      height: strip,
      look,
      u,
      ground: 1,
    }),
    ...(done ? markShapes(walk, step, pen) : []),
    words(footnote(walk.track), margin, height - margin / 2, { size: 22 * u, colour: look.pencil }),
  ]
}

interface Axes {
  readonly xOf: (atS: number) => number
  readonly yOf: (forceN: number) => number
  readonly timesS: readonly number[]
  /** In the unit shown. */
  readonly forces: readonly { readonly text: string; readonly forceN: number }[]
}

interface Pen extends Axes {
  readonly look: Look
  readonly u: number
  readonly plot: Area
}

function words(
  text: string,
  x: number,
  y: number,
  given: Partial<Words> & Pick<Words, 'size' | 'colour'>,
): Words {
  return { kind: 'words', x, y, text, bold: false, anchor: 'start', halo: null, ...given }
}

function axesOf({ track, raw }: Walk, plot: Area): Axes {
  const { startS, endS, unit } = track
  let { lowN, highN } = track
  for (const forceN of raw.forceN) {
    if (forceN < lowN) lowN = forceN
    if (forceN > highN) highN = forceN
  }
  const x = scaleLinear([startS, endS > startS ? endS : startS + 1], [plot.x, plot.x + plot.width])
  const y = scaleLinear(
    [fromNewton(lowN, unit), fromNewton(highN, unit)],
    [plot.y + plot.height, plot.y],
  ).nice()
  const perN = fromNewton(1, unit)
  return {
    xOf: atS => x(atS),
    yOf: forceN => y(forceN * perN),
    timesS: x.ticks(8),
    forces: y.ticks(5).map(value => ({ text: axisText(value), forceN: value / perN })),
  }
}

function axisShapes(unit: ShownUnit, { plot, look, u, xOf, yOf, timesS, forces }: Pen): Shape[] {
  const { x, y, width, height } = plot
  const small = { size: 24 * u, colour: look.pencil }
  const foot = y + height + 10 * u + 30 * u + 34 * u
  return [
    ...forces.flatMap(({ text, forceN }): Shape[] => [
      rule([x, yOf(forceN), x + width, yOf(forceN)], forceN === 0 ? look.ink : look.rule, 1.5 * u),
      words(text, x - 14 * u, yOf(forceN) + 8 * u, { ...small, anchor: 'end' }),
    ]),
    ...timesS.map(atS =>
      words(`${Number(atS.toPrecision(6))}`, xOf(atS), foot, { ...small, anchor: 'middle' }),
    ),
    words(`force, ${unit}`, x - 84 * u, y - 26 * u, small),
    words('time, s', x + width, foot + 30 * u, { ...small, anchor: 'end' }),
  ]
}

const rule = (
  points: readonly number[],
  colour: string,
  width: number,
  dashes: readonly number[] = [],
): Shape => ({
  kind: 'stroke',
  points,
  width,
  colour,
  dashes,
})

function rawShapes({ raw }: Walk, { kind }: WalkStep, { look, u, xOf, yOf }: Pen): Shape[] {
  const colour = kind === 'raw' ? look.ink : look.faint
  return [rule(pointsOf(raw, raw.timeS.length, xOf, yOf), colour, (kind === 'raw' ? 3 : 2) * u)]
}

/** Levels without load that lie clear of nought, as they were read. */
function restShapes({ rests, track }: Walk, { kind }: WalkStep, { look, u, xOf, yOf, plot }: Pen): Shape[] {
  const clear = 0.01 * (track.highN - track.lowN)
  const shown = rests.filter(rest => kind === 'zero' || Math.abs(rest.levelN) > clear)
  return shown.map(({ fromS, toS, levelN }) => {
    const from = Math.min(xOf(fromS), plot.x + plot.width - 24 * u)
    return rule([from, yOf(levelN), Math.max(xOf(toS), from + 24 * u), yOf(levelN)], look.warning, 4 * u, [
      12 * u,
      7 * u,
    ])
  })
}

function toldShapes({ track }: Walk, drawnToS: number, { look, u, xOf, yOf }: Pen): Shape[] {
  const told = firstAfter(track.curve.timeS, drawnToS)
  const points = pointsOf(track.curve, told, xOf, yOf)
  const ticks = track.events
    .filter(event => event.atS <= drawnToS)
    .flatMap(({ atS, beforeN }) => {
      const y = yOf(Math.max(beforeN, 0))
      return [xOf(atS), y - 8 * u, xOf(atS), y - 26 * u, Number.NaN, Number.NaN]
    })
  return [
    ...(points.length > 0 ? [rule(points, look.accent, 5 * u)] : []),
    ...(ticks.length > 0 ? [rule(ticks, look.ink, 2.5 * u)] : []),
  ]
}

/** What the step is about: a ring on the curve; at the end the interval of the peak beside it. */
function markShapes({ track }: Walk, { kind, atS }: WalkStep, { look, u, xOf, yOf, plot }: Pen): Shape[] {
  if (atS === null) return []
  const { valueN, lowN, highN } = track.result.peak
  const isPeak = (kind === 'peak' || kind === 'end') && valueN !== null
  const before = track.events.findLast(event => event.atS === atS)?.beforeN
  const forceN = isPeak
    ? valueN
    : (before ?? track.forceN[Math.max(0, firstAfter(track.timeS, atS) - 1)] ?? 0)
  const x = xOf(atS)
  const bar = { colour: look.ink, width: 3 * u }
  const interval: Shape[] =
    kind !== 'end' || lowN === null || highN === null
      ? []
      : [
          rule([x, yOf(lowN), x, yOf(highN)], bar.colour, bar.width),
          rule([x - 9 * u, yOf(lowN), x + 9 * u, yOf(lowN)], bar.colour, bar.width),
          rule([x - 9 * u, yOf(highN), x + 9 * u, yOf(highN)], bar.colour, bar.width),
        ]
  const label =
    kind === 'end' && valueN !== null ? [resultLabel(track, x, yOf(valueN), { look, u, plot })] : []
  return [
    { kind: 'ring', x, y: yOf(Math.max(forceN, 0)), radius: 11 * u, fill: look.paper, ...bar },
    ...interval,
    ...label,
  ]
}

/** The result beside its mark, on the side with more room. */
function resultLabel(
  { result }: ClipTrack,
  x: number,
  y: number,
  { look, u, plot }: { look: Look; u: number; plot: Area },
): Shape {
  const size = 36 * u
  const left = x + 24 * u + textWidth(result.words, size) <= plot.x + plot.width
  return words(result.words, left ? x + 24 * u : x - 24 * u, y + 12 * u, {
    size,
    colour: look.ink,
    bold: true,
    anchor: left ? 'start' : 'end',
    halo: { colour: look.paper, width: 8 * u },
  })
}

function pointsOf(
  { timeS, forceN }: Curve,
  upTo: number,
  xOf: (atS: number) => number,
  yOf: (forceN: number) => number,
): number[] {
  const points: number[] = []
  for (let i = 0; i < upTo; i++) {
    if (Number.isNaN(forceN[i]!)) points.push(Number.NaN, Number.NaN)
    else points.push(xOf(timeS[i]!), yOf(forceN[i]!))
  }
  return points
}

const footnote = ({ calibrated }: ClipTrack): string =>
  `${calibrated ? 'scale checked' : 'scale not checked; the doubt covers the reading only'} · for comparison, not for rating gear`

/** The picture in words, for those who do not see it. */
export function walkDescription({ track, steps }: Walk, index: number): string {
  const { kind, toS } = steps[index]!
  const drawn =
    kind === 'raw' ? 'The readings as the log has them' : `The corrected curve up to ${toS.toFixed(2)} s`
  const below = track.stretches.map(s => STRETCH_WORDS[s.kind]).join(', ')
  return `${drawn}, force against time. The whole record: ${below}.`
}

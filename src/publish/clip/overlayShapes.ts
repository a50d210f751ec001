import { firstAfter } from '../../core/signal/search.ts'
import { fromNewton, isOwnScale } from '../../core/units/force.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import type { Look } from '../figure/look.ts'
import { fitted } from '../figure/textWidth.ts'
import { type Moment, momentAt } from './moment.ts'
import { numeralWords } from './numeral.ts'
import { type OverlayPlan, overlayPlan } from './overlayPlan.ts'
import { selvedgeShapes } from './selvedgeShapes.ts'
import type { Shape, Words } from './shapes.ts'
import { seenTake, type Take } from './take.ts'
import type { ClipTrack } from './track.ts'

/** How an overlay looks: on a soft plate, or with a rim around all that is drawn. */
export type Ground = 'plate' | 'rim'

export interface OverlayLook {
  readonly width: number
  readonly height: number
  readonly look: Look
  readonly ground: Ground
}

/**
 * Over a white and over a black picture alike, words on the plate keep a contrast of 4.5 : 1 and the numeral
 * 7 : 1.
 */
export const PLATE_OPACITY = 0.9

/** What the overlay shows at one moment of the clip: nothing where no specimen is in it. */
export function overlayShapes(takes: readonly Take[], clipS: number, style: OverlayLook): Shape[] {
  const seen = seenTake(takes, clipS)
  if (seen === null) return []
  const { track } = seen.take
  const plan = overlayPlan(
    style.width,
    style.height,
    takes.map(one => one.track),
  )
  const moment = momentAt(track, seen.atS)
  const { look, ground } = style
  const pen: Pen = {
    look,
    u: plan.unitPx,
    halo: ground === 'rim' ? { colour: look.paper, width: 7 * plan.unitPx } : null,
  }
  return [
    ...(ground === 'plate' ? [plateOf(plan, look)] : []),
    ...selvedgeOf(track, moment, plan, pen),
    ...curveShapes(track, moment, plan, pen),
    ...textShapes(track, moment, plan, pen),
  ]
}

/**
 * A word that stays the same from one frame to the next exactly while the picture does, so that a picture
 * that has not changed need not be drawn again.
 */
export function overlayKey(takes: readonly Take[], clipS: number): string {
  const seen = seenTake(takes, clipS)
  if (seen === null) return ''
  const { take, atS } = seen
  const { sample, forceN, event, phase } = momentAt(take.track, atS)
  const news = event === null ? -1 : take.track.events.indexOf(event)
  return `${takes.indexOf(take)} ${phase} ${sample} ${forceN === null} ${news}`
}

interface Pen {
  readonly look: Look
  /** One px of a clip whose shorter side is 1080 px. */
  readonly u: number
  readonly halo: Words['halo']
}

const plateOf = ({ plate, unitPx }: OverlayPlan, look: Look): Shape => ({
  kind: 'box',
  ...plate,
  radius: 18 * unitPx,
  colour: look.paper,
  opacity: PLATE_OPACITY,
})

function textShapes(track: ClipTrack, moment: Moment, plan: OverlayPlan, { look, u, halo }: Pen): Shape[] {
  const { unit, decimals, result } = track
  const { numeral, text } = plan
  const after = moment.phase === 'after'
  // A rim leaves little of a muted colour.
  const quiet = halo === null ? look.pencil : look.ink
  const words = (y: number, line: string, given: Partial<Words> = {}): Words => ({
    kind: 'words',
    x: text.x,
    y,
    text: fitted(line, text.width, given.size ?? 30 * u),
    size: 30 * u,
    bold: false,
    anchor: 'start',
    colour: look.ink,
    halo: halo === null ? null : { ...halo, width: 6 * u },
    ...given,
  })
  // When all is over, what counts stands large: the peak.
  const shownN = after ? (result.peak.valueN ?? moment.forceN) : moment.forceN
  const force = shownN === null ? '–' : plainNumber(fromNewton(shownN, unit), decimals)
  const shapes: Shape[] = [
    words(plan.nameY, track.name, { colour: quiet }),
    ...numeralWords(force, { ...numeral, colour: after ? look.accent : look.ink, halo }),
    words(numeral.y, unit, { x: numeral.x + 16 * u, size: 56 * u, colour: quiet }),
  ]
  const said = after ? spoken(result.words) : peakLine(track, moment)
  if (said !== null) shapes.push(words(plan.peakY, said, { bold: true }))
  const notes = [
    ...(after && unit !== 'N' && !isOwnScale(unit) && result.peak.valueN !== null
      ? [`= ${result.inNewton}`]
      : []),
    ...(track.calibrated ? [] : ['scale not checked']),
  ]
  if (notes.length > 0) shapes.push(words(plan.noteY, notes.join(' · '), { size: 24 * u, colour: quiet }))
  if (moment.event !== null)
    shapes.push(
      words(plan.newsY, fitted(moment.event.label, plan.curve.width, 30 * u), {
        x: plan.curve.x,
        colour: look.warning,
        bold: true,
      }),
    )
  return shapes
}

/** “peak 68.2 ± 1.5 N”; what begins with its own noun keeps it. */
const spoken = (words: string): string => (/^\d|^−/.test(words) ? `peak ${words}` : words)

function peakLine({ unit, decimals, decimalsN }: ClipTrack, { peakSoFarN }: Moment): string | null {
  if (peakSoFarN === null) return null
  const peakN = Math.max(0, peakSoFarN)
  const value = plainNumber(fromNewton(peakN, unit), decimals)
  const newton = unit === 'N' || isOwnScale(unit) ? '' : ` = ${plainNumber(peakN, decimalsN)} N`
  return `peak so far ${value} ${unit}${newton}`
}

function curveShapes(track: ClipTrack, moment: Moment, plan: OverlayPlan, { look, u, halo }: Pen): Shape[] {
  const { x, y, width, height } = plan.curve
  const { curve, startS, endS, lowN, highN, timeS, forceN, events } = track
  const xOf = (atS: number) => x + ((atS - startS) / Math.max(endS - startS, 1e-9)) * width
  const yOf = (force: number) => y + ((highN - force) / (highN - lowN)) * height
  const rule = {
    kind: 'stroke',
    points: [x, yOf(0), x + width, yOf(0)],
    width: 1.5 * u,
    colour: halo === null ? look.pencil : look.ink,
    dashes: [],
  } as const
  const rules: Shape[] = halo === null ? [rule] : [{ ...rule, colour: halo.colour, width: 5 * u }, rule]
  if (moment.sample < 0) return rules
  const nowS = timeS[moment.sample]!
  const points: number[] = []
  const upTo = firstAfter(curve.timeS, nowS)
  for (let i = 0; i < upTo; i++) {
    const force = curve.forceN[i]!
    if (Number.isNaN(force)) points.push(Number.NaN, Number.NaN)
    else points.push(xOf(curve.timeS[i]!), yOf(force))
  }
  const tipX = xOf(nowS)
  const tipY = yOf(forceN[moment.sample]!)
  points.push(tipX, tipY)
  const line = { kind: 'stroke', points, colour: look.accent, width: 5 * u, dashes: [] } as const
  const ticks = events.filter(event => event.atS <= nowS)
  const tickPoints = ticks.flatMap(({ atS, beforeN }) => {
    const atX = xOf(atS)
    const atY = yOf(Math.max(beforeN, 0))
    return [atX, atY - 7 * u, atX, atY - 24 * u, Number.NaN, Number.NaN]
  })
  const tick = { kind: 'stroke', points: tickPoints, colour: look.ink, width: 3 * u, dashes: [] } as const
  return [
    ...rules,
    ...(halo === null ? [] : [{ ...line, colour: halo.colour, width: 11 * u }]),
    line,
    ...(tickPoints.length === 0
      ? []
      : [...(halo === null ? [] : [{ ...tick, colour: halo.colour, width: 8 * u }]), tick]),
    { kind: 'ring', x: tipX, y: tipY, radius: 8 * u, fill: look.ink, colour: look.accent, width: 4 * u },
  ]
}

function selvedgeOf(
  { startS, endS, timeS, stretches }: ClipTrack,
  { phase, sample }: Moment,
  { selvedge: { x, y, width, height } }: OverlayPlan,
  { look, u, halo }: Pen,
): Shape[] {
  if (sample < 0) return []
  return selvedgeShapes(stretches, {
    xOf: atS => x + ((atS - startS) / Math.max(endS - startS, 1e-9)) * width,
    untilS: phase === 'after' ? endS : timeS[sample]!,
    y,
    height,
    look,
    u,
    ground: halo === null ? 0 : 0.7,
  })
}

import { correctedForce } from '../../core/reading/correctedForce.ts'
import type { Reading } from '../../core/reading/document.ts'
import { elementsOf } from '../../core/reading/elementsOf.ts'
import { eventLabel } from '../../core/reading/eventLabel.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import { saysPractice, withPractice } from '../../core/reading/practice.ts'
import type { Recording } from '../../core/recording.ts'
import { firstAfter } from '../../core/signal/search.ts'
import { fromNewton, type ShownUnit } from '../../core/units/force.ts'
import { decimalsFor, plainNumber } from '../../core/units/showForce.ts'
import { RESULT_S } from '../clip/take.ts'
import type { Placement } from '../sync/document.ts'
import { clipTimeAt, recordingTimeAt } from '../sync/place.ts'

/** A recording that is to be told in a clip's captions. */
export interface CaptionTrack {
  readonly recording: Recording
  readonly reading: Reading
  /** Where it lies in the clip. */
  readonly placements: readonly Placement[]
  /** Said before the figures, to tell several specimens of a clip apart; `null` for one alone. May be hostile text. */
  readonly name: string | null
}

export interface CaptionOptions {
  readonly lengthS: number
  readonly unit: ShownUnit
  readonly perSecond: number
}

/** One caption, in whole milliseconds of the clip; plain text that the writers make safe. */
export interface Cue {
  readonly fromMs: number
  readonly toMs: number
  readonly lines: readonly string[]
  /** The first one after a break or partial break. */
  readonly breakOf: number | null
}

/** How long a break stays on. */
const BREAK_SHOWN_S = 2
/** Steps of a caption's figures; more would not be read. */
export const MOST_PER_SECOND = 30
const MOST_DECIMALS = 3

/**
 * The captions of a clip: force now and peak so far, renewed `perSecond` times a second and at the very instant of each
 * break, which is told for 2 s. In order, without overlap, within the clip's length.
 */
export function captionCues(tracks: readonly CaptionTrack[], options: CaptionOptions): Cue[] {
  const { lengthS, perSecond } = options
  if (!(perSecond > 0 && perSecond <= MOST_PER_SECOND))
    throw new RangeError(`perSecond must be above 0 and at most ${MOST_PER_SECOND}, got ${perSecond}`)
  const begins = tracks.flatMap(({ placements }) => placements.map(p => clipTimeAt(p, p.fromS)))
  const cues = tracks
    .flatMap(track => track.placements.flatMap(placement => cuesOf(track, placement, { ...options, begins })))
    .sort((a, b) => a.fromMs - b.fromMs)
  const endMs = Math.floor(lengthS * 1000)
  // Where two recordings are laid over each other the later one begins where it begins.
  return cues.flatMap((cue, i) => {
    const toMs = Math.min(cue.toMs, endMs, cues[i + 1]?.fromMs ?? endMs)
    return toMs > cue.fromMs ? [{ ...cue, toMs }] : []
  })
}

interface BreakMoment {
  readonly clipS: number
  readonly text: string
}

/** The result stands as long as it does in the overlay, or until another recording begins. */
function shownToS(placement: Placement, begins: readonly number[]): number {
  const endS = clipTimeAt(placement, placement.toS)
  const beginS = clipTimeAt(placement, placement.fromS)
  const nextS = Math.min(...begins.filter(other => other > beginS), Number.POSITIVE_INFINITY)
  return nextS < endS ? endS : Math.min(endS + RESULT_S, nextS)
}

function cuesOf(
  track: CaptionTrack,
  placement: Placement,
  options: CaptionOptions & { readonly begins: readonly number[] },
): Cue[] {
  const { recording, reading } = track
  const { lengthS, unit, perSecond, begins } = options
  const fromS = Math.max(0, clipTimeAt(placement, placement.fromS))
  const toS = Math.min(lengthS, shownToS(placement, begins))
  if (!(toS > fromS)) return []
  const decimals = decimalsOf(reading, unit)
  const breaks = breaksOf(reading, placement, { unit, decimals }).filter(
    b => b.clipS >= fromS && b.clipS < toS,
  )
  const told = tell(recording, reading, { unit, decimals })
  const starts = startsOf(fromS, toS, perSecond, breaks)
  return starts.map((start, i) => {
    const showing = breaks.findLast(b => b.clipS <= start.clipS && start.clipS < b.clipS + BREAK_SHOWN_S)
    const figures = told(recordingTimeAt(placement, start.clipS))
    return {
      fromMs: Math.round(start.clipS * 1000),
      toMs: Math.round((starts[i + 1]?.clipS ?? toS) * 1000),
      lines: [`${saidBefore(track)}${figures}`, ...(showing ? [showing.text] : [])],
      breakOf: start.breakOf,
    }
  })
}

/** When captions begin: an even grid over the whole clip, and the instants of the breaks. */
function startsOf(
  fromS: number,
  toS: number,
  perSecond: number,
  breaks: readonly BreakMoment[],
): { clipS: number; breakOf: number | null }[] {
  const starts: { clipS: number; breakOf: number | null }[] = [{ clipS: fromS, breakOf: null }]
  for (let k = Math.floor(fromS * perSecond) + 1; k / perSecond < toS; k++)
    starts.push({ clipS: k / perSecond, breakOf: null })
  starts.push(...breaks.map(({ clipS }, i) => ({ clipS, breakOf: i + 1 })))
  return starts.sort((a, b) => a.clipS - b.clipS)
}

function breaksOf(
  reading: Reading,
  placement: Placement,
  { unit, decimals }: { unit: ShownUnit; decimals: number },
): BreakMoment[] {
  return reading.events
    .filter(e => e.kind === 'break' || e.kind === 'partial-break')
    .filter(e => e.atS >= placement.fromS && e.atS <= placement.toS)
    .map(event => ({
      clipS: clipTimeAt(placement, event.atS),
      text: eventLabel(event, { unit, decimals, elements: elementsOf(reading) }),
    }))
}

/** What is said at a time of the recording. */
function tell(
  recording: Recording,
  reading: Reading,
  { unit, decimals }: { unit: ShownUnit; decimals: number },
): (atS: number) => string {
  const { timeS } = recording
  const forceN = correctedForce(recording, reading)
  const peaks = new Float64Array(forceN.length)
  let most = 0
  for (let i = 0; i < forceN.length; i++) {
    most = Math.max(most, forceN[i]!)
    peaks[i] = most
  }
  const { peakForce } = reading.results
  const show = (n: number): string => `${plainNumber(fromNewton(n, unit), decimals)} ${unit}`
  return atS => {
    const i = Math.max(0, firstAfter(timeS, atS) - 1)
    const lost = reading.recording.gaps.some(g => atS > g.fromS && atS < g.toS)
    const now = lost ? 'no reading' : show(forceN[i]!)
    // Once it is past, the peak is that of the reading, with its doubt: it may lie between two samples.
    const past = peakForce.atS !== null && atS > peakForce.atS
    return `${now} · ${past ? `peak ${peakWords(peakForce, unit)}` : `peak so far ${show(peaks[i]!)}`}`
  }
}

function decimalsOf(reading: Reading, unit: ShownUnit): number {
  const { uncertaintyN, valueN } = reading.results.peakForce
  const doubt = uncertaintyN ?? 0.01 * Math.abs(valueN ?? 0)
  return doubt > 0 ? Math.min(MOST_DECIMALS, decimalsFor(fromNewton(doubt, unit))) : 1
}

/** What stands before the figures: whose they are where several are told, and in any case that they are practice. */
function saidBefore({ name, reading }: CaptionTrack): string {
  if (name !== null) return `${withPractice(name, reading)}: `
  return saysPractice(reading) ? 'practice: ' : ''
}

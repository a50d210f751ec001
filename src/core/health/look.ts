import { readingStep } from '../calibration/resolution.ts'
import { quietStretches } from '../reading/quiet.ts'
import type { Recording } from '../recording.ts'
import { extentIn, extentOf } from '../signal/extent.ts'
import { roughNoise } from '../signal/noise.ts'
import { median } from '../signal/order.ts'
import { displayStep } from '../signal/quantum.ts'
import { sampleRate } from '../signal/rate.ts'
import { N_PER } from '../units/force.ts'
import { type Clock, clockOf } from './clock.ts'
import type { Evidence } from './document.ts'
import { findGlitches, withAlike, withoutGlitches } from './glitches.ts'
import type { GlitchGroup } from './glitchKinds.ts'
import { type Hung, hungMass, isSudden } from './mass.ts'
import { equalRuns, findRepeats, findStuck, type Repeats, type Stuck } from './repeats.ts'
import type { Glitch, HealthRecord, Looked, Stretch } from './types.ts'

/** A record with everything that is asked of it once. */
export interface Seen extends Looked {
  readonly index: number
  /** Clock of the lines as they came, repeats and all. */
  readonly lineClock: Clock
  readonly roughNoiseN: number
  readonly stepN: number
  readonly repeats: Repeats | null
  readonly stuck: readonly Stuck[]
  /** The mass that was hung; in a record of a free rig the load that was put on all the same, else `null`. */
  readonly hung: Hung | null
  /** Whether all readings are the same. */
  readonly isUnchanging: boolean
  /**
   * Stretches at one load: all of a rig hanging free, both levels of a hung mass, the rests of any other
   * record.
   */
  readonly stretches: readonly Stretch[]
}

/** Shorter rests tell too little. */
const LEAST_REST_S = 1

/** What the records of a check show together. */
export interface Together {
  /** A record that stands at its limit shows none of its own. */
  readonly noiseN: number
  /** How often nearly every reading comes, which a short record does not show by itself. */
  readonly usual: number
  /** What the glitches read that were found so far. */
  readonly reads: GlitchGroup['reads']
}

/** Looks a record through: clock, repeats, glitches, and the stretches in which the load does not change. */
export function lookAt({ recording: given, step }: HealthRecord, index: number, together: Together): Seen {
  const { noiseN, reads } = together
  const usual = usualRepeats(given, together.usual)
  const rough = { noiseN: Math.max(noiseN, recordNoise(given)), stepN: displayStep(given.forceN) }
  const { steadyLow, steadyHigh } = extentOf(given.forceN)
  const spanN = step === 'ordinary' ? steadyHigh - steadyLow : null
  // Three taps on purpose are no glitches, but for those of which the other records have some.
  const found =
    step === 'taps'
      ? []
      : findGlitches(given, { ...rough, spanN, periodS: sampleRate(given.timeS, given.segments).periodS })
  const glitches = withAlike(given.forceN, found, reads, { ...rough, spanN })
  const stepN = stepOf(given, glitches)
  const scale = { ...rough, stepN }
  const lines = usual === 1 ? withoutGlitches(given.forceN, glitches) : asBefore(given.forceN, glitches)
  const clean = { ...given, forceN: lines }
  const runs = equalRuns(lines, given.segments)
  const kept = usual === 1 ? null : freshPlaces(runs, usual)
  const recording = kept === null ? given : pickedFrom(given, kept)
  const cleanN = kept === null ? lines : pickedFrom(clean, kept).forceN
  const clock = clockOf(recording)
  const still = step === 'free' || step === 'mass'
  const isUnchanging = runs.length === given.segments.length && given.forceN.length > given.segments.length
  const standing = still || (step === 'pull' && usual === 1) ? findStuck(runs, scale) : []
  // In a pull a top that is cut stands still as well, but is left as fast as the force falls.
  // Raw counts never rest: where they do for the whole record, nothing arrives from the chip.
  const stuck =
    isUnchanging && still && given.forceUnit === 'counts'
      ? runs
      : still
        ? standing
        : standing.filter(s => leavesAtOnce(lines, s.to, scale.noiseN))
  const massHung = still ? hungMass(recording.timeS, cleanN, scale) : null
  const hung = step === 'mass' || (massHung !== null && isSudden(cleanN, massHung)) ? massHung : null
  const looked = { given, recording, step, cleanN, place: clock.place, periodS: clock.periodS, glitches }
  return {
    ...looked,
    index,
    lineClock: kept === null ? clock : clockOf(given),
    roughNoiseN: scale.noiseN,
    stepN,
    repeats: still ? findRepeats(lines, runs, stuck, scale) : null,
    stuck,
    hung,
    isUnchanging,
    stretches: stretchesOf(looked, index, hung, scale),
  }
}

/** First noise of a record, of its fresh readings alone. */
export function recordNoise(recording: Recording): number {
  const usual = usualRepeats(recording)
  if (usual === 1) return roughNoise(recording.forceN, recording.segments)
  const fresh = pickedFrom(recording, freshPlaces(equalRuns(recording.forceN, recording.segments), usual))
  return roughNoise(fresh.forceN, fresh.segments)
}

const MOST_VALUES = 500

/**
 * Display step, by the different readings of a part of the record in the log's own unit, or by its small
 * changes.
 */
function stepOf({ forceN, forceUnit }: Recording, glitches: readonly Glitch[] = []): number {
  const wild = new Set(glitches.map(g => g.index))
  const perUnit = forceUnit === null || forceUnit === 'counts' ? 1 : N_PER[forceUnit]
  const values = new Set<number>()
  for (let i = 0; i < forceN.length && values.size < MOST_VALUES; i++)
    if (!wild.has(i)) values.add(forceN[i]! / perUnit)
  // A glitch that was not found has digits of its own: the greater of the two is the display's.
  const step = Math.max(displayStep(forceN), (readingStep([...values]) ?? 0) * perUnit)
  return step > 0 ? step : stepBetweenValues(wild.size === 0 ? forceN : forceN.filter((_, i) => !wild.has(i)))
}

/**
 * Readings that lie so near to each other, as a share of the greatest, are equal but for rounding in the
 * log.
 */
const SAME_SHARE = 1e-9
/** Steps between sorted readings that are looked at, and the share of them that must be whole multiples. */
const LEAST_BETWEEN = 100
const WHOLE_SHARE = 0.95

/**
 * The step of readings that noise spreads over many steps, as counts in which a calibration leaves a step of
 * its own: sorted, most neighbours are one step apart, and all others whole multiples of it. 0 where they
 * are not.
 */
function stepBetweenValues(forceN: Float64Array): number {
  const sorted = forceN.slice().sort()
  const same = SAME_SHARE * Math.max(Math.abs(sorted[0] ?? 0), Math.abs(sorted.at(-1) ?? 0))
  const between: number[] = []
  for (let i = 1; i < sorted.length; i++) {
    const apart = sorted[i]! - sorted[i - 1]!
    if (apart > same) between.push(apart)
  }
  if (between.length < LEAST_BETWEEN) return 0
  between.sort((a, b) => a - b)
  const step = between[Math.floor(between.length / 10)]!
  // Of differences that lie on no grid three in ten would be near a multiple.
  const near = between.filter(d => d < 8.5 * step)
  const whole = near.filter(d => Math.abs(d / step - Math.round(d / step)) < 0.15 && d > 0.5 * step)
  return whole.length >= WHOLE_SHARE * near.length ? step : 0
}

/**
 * How often nearly every reading comes; 1 where each comes once, or where the display is too coarse to tell.
 * `elsewhere`: how often in the other records of the check.
 */
export function usualRepeats(recording: Recording, elsewhere = 1): number {
  const { forceN, segments } = recording
  const runs = equalRuns(forceN, segments)
  const lengths = runs.map(r => r.to - r.from).sort((a, b) => a - b)
  const usual = lengths[lengths.length >> 1] ?? 1
  if (usual < 2) return 1
  if (runs.length < 50) return usual === elsewhere ? usual : 1
  const firsts = Float64Array.from(runs, r => forceN[r.from]!)
  const noiseN = roughNoise(firsts, [{ ...segments[0]!, from: 0, to: firsts.length }])
  return noiseN < COARSE * stepOf(recording) ? 1 : usual
}

/** Noise under this share of a display step: the display may well stand still by itself. */
const COARSE = 0.6

/** First readings of each fresh one. Two that are equal by chance make one run of twice the length. */
const freshPlaces = (runs: readonly { from: number; to: number }[], usual: number): number[] =>
  runs.flatMap(r =>
    Array.from({ length: Math.max(1, Math.round((r.to - r.from) / usual)) }, (_, k) => r.from + k * usual),
  )

function pickedFrom(recording: Recording, kept: readonly number[]): Recording {
  const pick = (values: Float64Array): Float64Array => Float64Array.from(kept, i => values[i]!)
  let at = 0
  const segments = recording.segments.map(segment => {
    const own = kept.filter(i => i >= segment.from && i < segment.to).length
    at += own
    return { ...segment, from: at - own, to: at }
  })
  return {
    ...recording,
    timeS: pick(recording.timeS),
    forceN: pick(recording.forceN),
    channels: recording.channels.map(c => ({ ...c, values: pick(c.values) })),
    segments,
  }
}

/**
 * Readings after it tell how fast the force goes; what leaves at once steps by so many noise sd and so many
 * of theirs.
 */
const AFTER_READINGS = 6
const STEPS_BY = 5

function leavesAtOnce(forceN: Float64Array, at: number, noiseN: number): boolean {
  if (at + AFTER_READINGS >= forceN.length) return false
  const step = (i: number): number => Math.abs(forceN[i]! - forceN[i - 1]!)
  const usual = median(Array.from({ length: AFTER_READINGS }, (_, k) => step(at + 1 + k)))!
  return step(at) > STEPS_BY * Math.max(noiseN, usual)
}

/** Where every reading comes several times, a glitch in one of them is replaced by the same reading again. */
function asBefore(forceN: Float64Array, glitches: readonly Glitch[]): Float64Array {
  const clean = forceN.slice()
  for (const { index } of glitches) clean[index] = clean[index - 1]!
  return clean
}

function stretchesOf(
  looked: Looked,
  record: number,
  hung: Hung | null,
  scale: { noiseN: number; stepN: number },
): Stretch[] {
  const { recording, step } = looked
  const n = recording.forceN.length
  const parts = recording.segments.map(s => ({ record, from: s.from, to: s.to, load: 'none' as const }))
  if (step === 'free' && hung === null) return parts
  if (step === 'free' || step === 'mass') {
    if (hung === null) return []
    const stretch = (part: { from: number; to: number } | null, load: Stretch['load']): Stretch[] =>
      part === null ? [] : [{ record, from: part.from, to: part.to, load }]
    return [...stretch(hung.before, 'none'), ...stretch(hung.loaded, 'mass'), ...stretch(hung.after, 'none')]
  }
  return step !== 'ordinary' || n < 20 ? [] : restsOf(looked, record, scale)
}

/** A rest of an ordinary record lies within this share of its span from its least steady reading. */
const REST_SHARE = 0.2
/** A level that goes on as fast as this share of the span over the whole record is a slow loading. */
const LOADING_SHARE = 0.5

/** Stretches of an ordinary record that keep one low level, from which its zero and its noise can be told. */
function restsOf(
  { recording: { timeS, segments }, cleanN, periodS }: Looked,
  record: number,
  { noiseN, stepN }: { noiseN: number; stepN: number },
): Stretch[] {
  const { steadyLow: low, steadyHigh: high } = extentIn(cleanN, 0, cleanN.length)
  const lastsS = timeS.at(-1)! - timeS[0]!
  return quietStretches(timeS, cleanN, segments, { periodS, noiseN, quantumN: stepN })
    .filter(
      q =>
        q.toS - q.fromS >= LEAST_REST_S &&
        q.to - q.from >= 8 &&
        q.levelN - low < REST_SHARE * (high - low) + 6 * noiseN &&
        Math.abs(q.slopeNPerS) * lastsS < LOADING_SHARE * (high - low) + 12 * noiseN,
    )
    .map(({ from, to }) => ({ record, from, to, load: 'none' as const }))
}

const MOST_PLACES = 200

/** Evidence in one record, cut to what can be drawn. */
export function evidenceIn(
  record: number,
  atS: readonly number[],
  spans: readonly { fromS: number; toS: number }[] = [],
): Evidence {
  return { record, atS: atS.slice(0, MOST_PLACES), spans: spans.slice(0, MOST_PLACES) }
}

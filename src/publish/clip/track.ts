import { correctedForce } from '../../core/reading/correctedForce.ts'
import type { PeakForce, Reading } from '../../core/reading/document.ts'
import { elementsOf } from '../../core/reading/elementsOf.ts'
import { dropDecimals, eventLabel } from '../../core/reading/eventLabel.ts'
import { peakWords } from '../../core/reading/peakWords.ts'
import { withPractice } from '../../core/reading/practice.ts'
import { selvedge } from '../../core/reading/selvedge.ts'
import type { Stretch } from '../../core/reading/states.ts'
import type { Recording } from '../../core/recording.ts'
import { thinned } from '../../core/signal/thin.ts'
import type { ShownUnit } from '../../core/units/force.ts'

/** A point of a drawn curve; NaN force lifts the pen. */
export interface Curve {
  readonly timeS: Float64Array
  readonly forceN: Float64Array
}

/** All that a clip shows of one specimen. */
export interface ClipTrack {
  readonly name: string
  readonly unit: ShownUnit
  /** Decimals of the live numeral, those that the noise and the step of the display allow. */
  readonly decimals: number
  /** The same for the figure in newton beside it. */
  readonly decimalsN: number
  readonly startS: number
  readonly endS: number
  /** Every sample, less the zero of its time. */
  readonly timeS: Float64Array
  readonly forceN: Float64Array
  /** Greatest force of the samples so far. */
  readonly peakN: Float64Array
  /** The same curve with no more points than can be told apart. */
  readonly curve: Curve
  readonly stretches: readonly Stretch[]
  readonly events: readonly TrackEvent[]
  /** The result in words that keep its status and its doubt, in the unit and in newton. */
  readonly result: { readonly words: string; readonly inNewton: string; readonly peak: PeakForce }
  readonly calibrated: boolean
  /** What the axis of force spans. */
  readonly lowN: number
  readonly highN: number
}

export interface TrackEvent {
  readonly atS: number
  readonly beforeN: number
  readonly label: string
}

/** More than any clip is wide; a curve has up to about four points to each. */
export const CURVE_PIXELS = 1_200

/** Prepares a recording and its reading for a clip. Cost: linear in the samples, once. */
export function clipTrack(
  recording: Recording,
  reading: Reading,
  { name, unit }: { readonly name: string; readonly unit: ShownUnit },
): ClipTrack {
  const forceN = correctedForce(recording, reading)
  const stretches = selvedge(recording, reading)
  const gaps = stretches.filter(s => s.kind === 'gap')
  const drawn = thinned(recording.timeS, forceN, CURVE_PIXELS, gaps)
  const decimals = dropDecimals(reading, unit)
  const elements = elementsOf(reading)
  const { peakForce } = reading.results
  const [lowN, highN] = spanOf(drawn.value, peakForce.highN ?? 0)
  return {
    name: withPractice(name, reading),
    unit,
    decimals,
    decimalsN: dropDecimals(reading, 'N'),
    startS: reading.recording.startS,
    endS: reading.recording.endS,
    timeS: recording.timeS,
    forceN,
    peakN: peaksSoFar(forceN),
    curve: { timeS: drawn.timeS, forceN: drawn.value },
    stretches,
    events: reading.events.map(event => ({
      atS: event.atS,
      beforeN: event.beforeN,
      label: eventLabel(event, { unit, decimals, elements }),
    })),
    result: {
      words: peakWords(peakForce, unit),
      inNewton: peakWords(peakForce, 'N'),
      peak: peakForce,
    },
    calibrated: !reading.warnings.some(w => w.code === 'not-calibrated'),
    lowN,
    highN,
  }
}

function peaksSoFar(forceN: Float64Array): Float64Array {
  let most = Number.NEGATIVE_INFINITY
  return forceN.map(force => {
    if (force > most) most = force
    return most
  })
}

/** From no load, or what lies below it, to the greatest force with its doubt. */
function spanOf(forceN: Float64Array, atLeastN: number): [number, number] {
  let low = 0
  let high = Math.max(0, atLeastN)
  for (const force of forceN) {
    if (force < low) low = force
    if (force > high) high = force
  }
  return high > low ? [low, high] : [low - 1, high + 1]
}

import { type ForceUnit, N_PER, parseForceUnit, toNewton } from '../units/force.ts'
import { ENGINE_VERSION } from '../version.ts'
import type { Reading } from './document.ts'

/** A peak that a person read off a scale with a peak hold; there is no curve. */
export interface TypedPeak {
  readonly value: number
  readonly unit: ForceUnit
  /** The scale showed at least so much: it was passed, or the specimen held. */
  readonly isAtLeast: boolean
  /** Step of the display, and half-width of a 95 % interval of the scale's own error, in the unit; `null` where not known. */
  readonly step: number | null
  readonly doubt: number | null
  /** `''` where it was not told. */
  readonly who: string
}

const NORMAL_95 = 1.959_963_984_540_054

/** What marks a reading as one. */
export const isTyped = ({ warnings }: Pick<Reading, 'warnings'>): boolean =>
  warnings.some(({ code }) => code === 'typed')

/**
 * The reading of a specimen of which only the greatest force is known. The display's step counts as a uniform error of half
 * a step either way (GUM, JCGM 100:2008, F.2.2.1); the scale's doubt is shared by all that was read off it. What a curve
 * would show (zero, events, how it ended) is not known, and stays so.
 */
export function typedReading(
  specimen: NonNullable<Reading['specimen']>,
  { value, unit, isAtLeast, step, doubt, who }: TypedPeak,
): Reading {
  const valueN = toNewton(value, unit)
  const typed = who === '' ? 'typed' : `typed by ${who}`
  const budget: Reading['budget'] = [
    ...(step === null ? [] : [part('display step', toNewton(step, unit) / (2 * Math.sqrt(3)), 'none')]),
    ...(doubt === null ? [] : [part('scale', toNewton(doubt, unit) / NORMAL_95, 'rig')]),
  ]
  const half = budget.length === 0 ? null : 2 * Math.hypot(...budget.map(one => one.standardN))
  return {
    document: 'tenterhook.reading',
    version: 2,
    engine: ENGINE_VERSION,
    specimen,
    recording: {
      name: 'typed',
      sha256: '',
      samples: 0,
      startS: 0,
      endS: 0,
      rateHz: 0,
      noiseN: 0,
      quantumN: step === null ? 0 : toNewton(step, unit),
      forceUnit: unit,
      timeFrom: 'rate',
      gaps: [],
      spikes: [],
      overRange: null,
      understood: `${typed}: ${isAtLeast ? 'at least ' : ''}${value} ${unit}`,
      linesNotRead: null,
      segments: [],
    },
    zeros: [],
    pulls: [],
    events: [],
    results: {
      peakForce: {
        status: isAtLeast ? 'at-least' : 'measured',
        zero: 'as-indicated',
        zeroAlternatives: null,
        valueN,
        uncertaintyN: half,
        lowN: half === null ? null : valueN - half,
        highN: half === null ? null : valueN + half,
        covers: budget.map(({ source }) => source),
        atS: null,
        indicatedN: valueN,
      },
      partialBreaks: 0,
      laterPeaks: [],
      timeToPeakS: null,
      stiffness: null,
      work: null,
    },
    budget,
    warnings: [
      {
        code: 'typed',
        text: `The peak was read off a scale and ${typed}; there is no curve that shows its zero or how it broke.`,
      },
      ...(doubt === null
        ? [
            {
              code: 'not-calibrated',
              text: 'The error of the scale is not told, so the doubt leaves it out. Give its doubt, or check it with a known mass.',
            },
          ]
        : []),
    ],
  }
}

/** What a typed reading was made from; `null` for any other reading. */
export function typedPeakOf(reading: Reading): TypedPeak | null {
  const said = /^typed(?: by (.*))?: (at least )?(\S+) (\S+)$/s.exec(reading.recording.understood)
  const unit = parseForceUnit(said?.[4] ?? '')
  if (!isTyped(reading) || said === null || unit === null || unit === 'counts') return null
  // Digits beyond the twelfth come from changing the unit to and fro.
  const inUnit = (valueN: number): number => Number((valueN / N_PER[unit]).toPrecision(12))
  const scale = reading.budget.find(({ source }) => source === 'scale')
  return {
    value: Number(said[3]),
    unit,
    isAtLeast: said[2] !== undefined,
    step: reading.recording.quantumN === 0 ? null : inUnit(reading.recording.quantumN),
    doubt: scale === undefined ? null : inUnit(scale.standardN * NORMAL_95),
    who: said[1] ?? '',
  }
}

const part = (
  source: string,
  standardN: number,
  shared: Reading['budget'][number]['shared'],
): Reading['budget'][number] => ({ source, standardN, correctionN: 0, shared })

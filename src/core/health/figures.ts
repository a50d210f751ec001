import { extentOf } from '../signal/extent.ts'
import { median } from '../signal/order.ts'
import { findHum, type Hum, withoutHum } from './hum.ts'
import type { Seen } from './look.ts'
import { type ByHand, byHand } from './pullByHand.ts'
import { deviationOf, type Residual, residualOf } from './residual.ts'
import { averagedFromNoise, type Settled, settlingFromTaps } from './settlingReadings.ts'
import type { HealthOptions } from './types.ts'

/** Figures of the rig over all records of a check, from which the findings follow. */
export interface Figures {
  readonly rateHz: number | null
  /** Standard deviation of a reading at rest, hum taken out. */
  readonly noiseN: number | null
  readonly stepN: number
  readonly bits: number | null
  readonly hum: Hum | null
  readonly settled: Settled | null
  /** Readings of a running mean, from the noise alone. */
  readonly averaged: number | null
  readonly hand: ByHand | null
  /** −1 where a load lowers the reading, by the mass or else by the pull itself. */
  readonly turned: 1 | -1
  /** The greatest known load: the mass, or the greatest pull. */
  readonly loadN: number | null
  readonly inCounts: boolean
}

/**
 * Range of the usual two-wire 24-bit bridge converter at its gain of 128: ±0.5/128 of its own supply, over
 * which the cell is fed too, so 7.8125 mV/V from end to end (the maker's data sheet, from memory).
 */
const RANGE_MV_PER_V = 1000 / 128
const COUNTS_BITS = 24

export function figuresOf(records: readonly Seen[], options: HealthOptions): Figures {
  const inCounts = records.some(r => r.recording.forceUnit === 'counts')
  const residuals = records
    .flatMap(r => r.stretches.map(s => residualOf(r, s)))
    .filter(r => r.valueN.length >= 16)
    .sort((a, b) => b.valueN.length - a.valueN.length)
  const hum = findHum(residuals.filter(r => r.periodS > 0))
  const quiet = hum === null ? residuals : residuals.map(r => withoutHum(r, hum))
  const noiseN = weightedDeviation(quiet)
  const stepN = median(records.map(r => r.stepN)) ?? 0
  const withTimes = records.filter(r => r.periodS > 0 && r.recording.timeFrom !== 'rate')
  // Records too short to show that every reading comes several times do not tell how many fresh ones there
  // are.
  const sparse = withTimes.filter(r => r.recording !== r.given)
  const timed = sparse.length > 0 ? sparse : withTimes
  const scale = { noiseN: noiseN ?? records[0]?.roughNoiseN ?? 0, stepN }
  const taps = records.filter(r => r.step === 'taps')
  const settled = taps.map(r => settlingFromTaps(r.cleanN, scale)).find(s => s !== null) ?? null
  const pull = records.find(r => r.step === 'pull') ?? records.find(r => r.step === 'ordinary')
  const averaged = quiet[0] === undefined ? null : averagedFromNoise(quiet[0])
  const hung = records.find(r => r.step === 'mass' && r.hung?.changeN)?.hung?.changeN
  const pulled = pull?.step === 'pull' ? reachOf(aboveRest(pull)) : 1
  const turned = (hung ?? pulled) < 0 ? -1 : 1
  const hand =
    pull === undefined
      ? null
      : byHand(
          pull.recording,
          aboveRest(pull).map(v => turned * v),
          {
            noiseN: scale.noiseN,
            periodS: pull.periodS,
            settling: Math.max(1, settled?.readings ?? averaged ?? 1),
            // Of a record in which every reading comes several times only the fresh ones are looked at.
            stuck: pull.recording === pull.given ? pull.stuck : [],
          },
        )
  return {
    rateHz: timed.length === 0 ? null : 1 / median(timed.map(r => r.periodS))!,
    noiseN,
    stepN,
    bits: bitsLeft(noiseN, inCounts, options),
    hum,
    settled,
    averaged,
    hand,
    turned,
    loadN: options.massN ?? (hung ? Math.abs(hung) : (hand?.greatestN ?? null)),
    inCounts,
  }
}

/** Readings of a pull less its rest: what it starts from, where no rest is known. */
function aboveRest({ cleanN, stretches }: Seen): Float64Array {
  const rest = stretches[0]
  const from = rest?.from ?? 0
  const level = median(cleanN.subarray(from, rest?.to ?? Math.min(cleanN.length, 10))) ?? 0
  return cleanN.map(v => v - level)
}

/** How far the readings of a pull go from its rest, to the side to which they go farther. */
function reachOf(aboveN: Float64Array): number {
  const { steadyLow, steadyHigh } = extentOf(aboveN)
  return steadyHigh >= -steadyLow ? steadyHigh : steadyLow
}

function weightedDeviation(parts: readonly Residual[]): number | null {
  const told = parts.map(p => ({ sd: deviationOf(p), n: p.valueN.length }))
  const n = told.reduce((sum, p) => sum + p.n, 0)
  return n < 20 ? null : Math.sqrt(told.reduce((sum, p) => sum + p.n * p.sd ** 2, 0) / n)
}

function bitsLeft(
  noiseN: number | null,
  inCounts: boolean,
  { capacityN, ratedOutputMvPerV }: HealthOptions,
): number | null {
  if (noiseN === null || !(noiseN > 0)) return null
  if (inCounts) return COUNTS_BITS - Math.log2(Math.max(1, noiseN))
  if (capacityN === undefined || ratedOutputMvPerV === undefined) return null
  const rangeN = (capacityN * RANGE_MV_PER_V) / ratedOutputMvPerV
  return Math.min(COUNTS_BITS, Math.log2(rangeN / noiseN))
}

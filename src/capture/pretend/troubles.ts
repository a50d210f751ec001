import { N_PER } from '../../core/units/force.ts'
import type { Happening } from './bench.ts'
import type { ConverterSpec, Output } from './converter.ts'
import type { Random } from './random.ts'

/**
 * Lasting troubles of a cheap rig, each with its size; all of them may be had at once, in a check and in a pull. Rate,
 * jitter, noise, averaging by the converter and its limit are the converter's own (`ConverterSpec`).
 */
export interface RigTroubles {
  /** Mains hum: its swing to either side as the readings show it. */
  readonly hum?: { readonly hz: number; readonly amplitudeN: number }
  /** The device averages so many readings into each. */
  readonly deviceMean?: number
  readonly driftNPerMin?: number
  /** The zero goes by `changeN` in all, and dies away. */
  readonly warmUp?: { readonly changeN: number; readonly tauS: number }
  /** Under a load the reading goes on by this share of it, and dies away; without it, back. */
  readonly creep?: { readonly share: number; readonly tauS: number }
  /** Shares of the readings that come out wrong. */
  readonly glitches?: Partial<Record<GlitchCause, number>>
  /** Raw counts of the converter without load, and newton in one of them: what a wrong word is made of. */
  readonly raw?: { readonly zeroCounts: number; readonly nPerCount: number }
  /** Share of the readings that are sent as the one before. */
  readonly repeatedShare?: number
  /** Every reading is sent so many times. */
  readonly eachTimes?: number
  readonly stuck?: { readonly times: number; readonly readings: number }
  /** Share of the readings that never come. */
  readonly lostShare?: number
  /** The device gives nothing for so long, every so often. */
  readonly holes?: { readonly everyS: number; readonly lastsS: number }
  readonly isTurned?: boolean
}

export type GlitchCause = 'doubled' | 'halved' | 'ones' | 'channel' | 'zero'

/** What of the troubles came to be in one log. */
export interface TroubleTruth {
  readonly glitches: readonly { readonly t: number; readonly cause: GlitchCause }[]
  readonly repeated: number
  readonly lost: number
  readonly holes: readonly { readonly from: number; readonly to: number }[]
}

const RAW = { zeroCounts: 84_000, nPerCount: 0.0005 }
/** Counts of the other channel, and their own scatter. */
const OTHER_CHANNEL = { counts: -310_000, sd: 60 }
/** A line that stayed high for the last 21 bits. */
const ONES = 2 ** 21 - 1

/** The cell with what the mains, the warmth and the glue do to it. The hum is what the converter leaves of it. */
export function troubledCell(
  happening: Happening,
  { rateHz, passes }: ConverterSpec,
  { hum, driftNPerMin = 0, warmUp, creep }: RigTroubles,
  random: Random,
): Happening {
  const { stepS, forceN } = happening
  const driftN = happening.driftN.slice()
  const phase = random.between(0, 2 * Math.PI)
  const atCell = hum === undefined ? 0 : hum.amplitudeN / leftOf(hum.hz, rateHz, passes)
  let crept = 0
  for (let i = 0; i < driftN.length; i++) {
    const t = i * stepS
    driftN[i]! += (driftNPerMin * t) / 60
    if (hum) driftN[i]! += atCell * Math.sin(2 * Math.PI * hum.hz * t + phase)
    if (warmUp) driftN[i]! += warmUp.changeN * (1 - Math.exp(-t / warmUp.tauS))
    if (creep) {
      crept += ((creep.share * forceN[i]! - crept) * stepS) / creep.tauS
      driftN[i]! += crept
    }
  }
  return { ...happening, driftN }
}

/** Part of a swing that running means over `passes` periods leave: the product of their |sin x / x|. */
function leftOf(hz: number, rateHz: number, passes: readonly number[]): number {
  const left = passes.reduce((product, periods) => {
    const x = (Math.PI * hz * periods) / rateHz
    return product * Math.abs(Math.sin(x) / x)
  }, 1)
  // What the converter takes out wholly cannot be had back.
  return Math.max(0.02, left)
}

/** The readings of one log with what the chip, the program and the line do to them. */
export function troubledOutput(
  output: Output,
  converter: ConverterSpec,
  troubles: RigTroubles,
  random: Random,
): { output: Output; truth: TroubleTruth } {
  const perUnit = N_PER[converter.unit]
  const { zeroCounts, nPerCount } = troubles.raw ?? RAW
  const n = output.timeS.length
  let values: Float64Array = output.indicated.slice()
  if (troubles.deviceMean) values = runningMean(values, troubles.deviceMean)
  if (troubles.isTurned) values = values.map(v => -v)
  if (troubles.eachTimes) values = values.map((_, i) => values[i - (i % troubles.eachTimes!)]!)
  const stuckFor = troubles.stuck
  if (stuckFor) {
    for (let k = 0; k < stuckFor.times; k++) {
      // One in each equal part of the log, away from its ends.
      const from = Math.floor(((k + random.between(0.3, 0.6)) * n) / stuckFor.times)
      for (let i = from + 1; i < Math.min(n, from + stuckFor.readings); i++) values[i] = values[from]!
    }
  }
  let repeated = 0
  if (troubles.repeatedShare) {
    for (let i = 1; i < n; i++) {
      if (!random.chance(troubles.repeatedShare)) continue
      // Asked twice too early, a program sends what it sent last a third time.
      values[i] = values[i - 1]!
      repeated++
    }
  }
  const words: Record<GlitchCause, (counts: number) => number> = {
    doubled: counts => 2 * counts + 1,
    halved: counts => Math.floor(counts / 2),
    ones: () => ONES,
    channel: () => OTHER_CHANNEL.counts + Math.round(OTHER_CHANNEL.sd * random.normal()),
    zero: () => 0,
  }
  const glitches: { t: number; cause: GlitchCause }[] = []
  for (const [cause, share] of Object.entries(troubles.glitches ?? {}) as [GlitchCause, number][]) {
    for (let i = 1; i < n - 1; i++) {
      if (!random.chance(share)) continue
      const counts = Math.round((values[i]! * perUnit) / nPerCount) + zeroCounts
      // A program that sends 0 for nothing sends it after the tare.
      values[i] = cause === 'zero' ? 0 : ((words[cause](counts) - zeroCounts) * nPerCount) / perUnit
      glitches.push({ t: output.timeS[i]!, cause })
    }
  }
  const { lost, holes } = lostReadings(output.timeS, troubles, random)
  const kept = (series: Float64Array): Float64Array => series.filter((_, i) => lost[i] === 0)
  return {
    output: {
      ...output,
      timeS: kept(output.timeS),
      indicated: kept(values),
      travelMm: kept(output.travelMm),
      clipped: output.clipped.filter((_, i) => lost[i] === 0),
    },
    truth: { glitches, repeated, lost: lost.reduce((a, b) => a + b, 0), holes },
  }
}

function runningMean(values: Float64Array, readings: number): Float64Array {
  return values.map((_, i) => {
    const from = Math.max(0, i - readings + 1)
    let sum = 0
    for (let k = from; k <= i; k++) sum += values[k]!
    return sum / (i - from + 1)
  })
}

function lostReadings(
  timeS: Float64Array,
  { lostShare = 0, holes: every }: RigTroubles,
  random: Random,
): { lost: Uint8Array; holes: { from: number; to: number }[] } {
  const n = timeS.length
  const lost = new Uint8Array(n)
  const holes: { from: number; to: number }[] = []
  if (lostShare > 0) for (let i = 1; i < n - 1; i++) if (random.chance(lostShare)) lost[i] = 1
  if (every) {
    for (let atS = timeS[0]! + every.everyS; atS + every.lastsS < timeS[n - 1]!; atS += every.everyS) {
      for (let i = 1; i < n - 1; i++) if (timeS[i]! > atS && timeS[i]! < atS + every.lastsS) lost[i] = 1
      holes.push({ from: atS, to: atS + every.lastsS })
    }
  }
  return { lost, holes }
}

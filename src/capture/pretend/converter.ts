import { type ForceUnit, N_PER } from '../../core/units/force.ts'
import type { Happening } from './bench.ts'
import type { Random } from './random.ts'

/** The bridge converter, the indicator and the line that carries its numbers. */
export interface ConverterSpec {
  readonly rateHz: number
  /**
   * Averaging inside the converter: each pass is a running mean over so many output periods. One pass of 1 is a
   * converter that averages over its own period; n passes of 1 make a sincⁿ filter.
   */
  readonly passes: readonly number[]
  /** Standard deviation of one output. */
  readonly noiseN: number
  readonly unit: ForceUnit
  /** Step of the display, in `unit`; 0: none. */
  readonly quantum: number
  /** The output sticks here, in newton above the cell's true zero; `null`: never. */
  readonly limitN: number | null
  /** Spread of the time stamps, as a share of the period. */
  readonly jitter: number
  /** Decimals of a second in the time stamps. */
  readonly stampDecimals: number
}

/** One log as it came over the line. Times count from the start of the log. */
export interface Output {
  readonly timeS: Float64Array
  readonly indicated: Float64Array
  readonly travelMm: Float64Array
  readonly clipped: Uint8Array
  /** From the start of the log: when the zero key was pressed, and what the indicator then shows with no load,
   *  and how far the key moved the reading. */
  readonly zeros: readonly { readonly atS: number; readonly noLoadN: number; readonly movedN: number }[]
  /** What the indicator shows with no load when the log begins. */
  readonly noLoadAtStartN: number
}

/** Whole time over which one output averages, in output periods. */
export const spanPeriods = (passes: readonly number[]): number => passes.reduce((a, b) => a + b, 0)

/** Steps of the bench between two outputs, so that a step is a whole part of a period and short enough. */
export const stepsPerOutput = (rateHz: number): number => Math.max(8, Math.ceil(1000 / rateHz))

function runningMean(values: Float64Array, steps: number): Float64Array {
  const mean = new Float64Array(values.length)
  let sum = 0
  for (let i = 0; i < values.length; i++) {
    sum += values[i]!
    if (i >= steps) sum -= values[i - steps]!
    mean[i] = sum / Math.min(i + 1, steps)
  }
  return mean
}

/** Runs every log of a happening through the converter. The zero key carries over from one log to the next. */
export function convert(happening: Happening, spec: ConverterSpec, random: Random): Output[] {
  const perOutput = stepsPerOutput(spec.rateHz)
  const { forceN, asideN, driftN, stepS } = happening
  const limitN = spec.limitN ?? Number.POSITIVE_INFINITY
  let cell: Float64Array = new Float64Array(forceN.length)
  for (let i = 0; i < cell.length; i++) cell[i] = forceN[i]! + asideN[i]! + driftN[i]!
  for (const periods of spec.passes) cell = runningMean(cell, Math.round(periods * perOutput))

  /** What the key took as zero: the mean of a few outputs, so a little of the noise stays in it. */
  const tares = happening.zeros.map(step => ({
    step,
    tareN: cell[Math.min(step, cell.length - 1)]! + (spec.noiseN / 2) * random.normal(),
  }))
  const taredAt = (step: number): number => tares.findLast(t => t.step <= step)?.tareN ?? 0
  const quantumN = spec.quantum * N_PER[spec.unit]

  return happening.logs.map(log => {
    const count = Math.floor((log.to - log.from) / perOutput)
    const timeS = new Float64Array(count)
    const indicated = new Float64Array(count)
    const travelMm = new Float64Array(count)
    const clipped = new Uint8Array(count)
    const grain = 10 ** spec.stampDecimals
    let lastS = Number.NEGATIVE_INFINITY
    for (let k = 0; k < count; k++) {
      const step = log.from + (k + 1) * perOutput - 1
      const raw = cell[step]! + spec.noiseN * random.normal()
      clipped[k] = raw >= limitN ? 1 : 0
      const shownN = Math.min(limitN, raw) - taredAt(step)
      indicated[k] = quantumN > 0 ? Math.round(shownN / quantumN) * spec.quantum : shownN / N_PER[spec.unit]
      travelMm[k] = happening.travelMm[step]!
      const late = Math.max(-0.45, Math.min(0.45, random.normal(0, spec.jitter)))
      const stampS = Math.round((k + 1 + late) * perOutput * stepS * grain) / grain
      timeS[k] = stampS > lastS ? stampS : lastS + 1 / grain
      lastS = timeS[k]!
    }
    const inLog = happening.zeros.filter(z => z > log.from && z < log.to)
    return {
      timeS,
      indicated,
      travelMm,
      clipped,
      zeros: inLog.map(z => ({
        atS: (z - log.from) * stepS,
        noLoadN: driftN[z]! - taredAt(z),
        movedN: taredAt(z - 1) - taredAt(z),
      })),
      noLoadAtStartN: driftN[log.from]! - taredAt(log.from),
    }
  })
}

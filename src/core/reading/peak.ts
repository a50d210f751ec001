import { lineAt } from '../signal/line.ts'
import type { Drop } from './drops.ts'
import type { PullSpan } from './pulls.ts'

/** The greatest force of one pull. */
export interface PullPeak {
  readonly valueN: number
  /** 95 % interval from what happens between two samples and from noise alone; the zero is not in it. */
  readonly lowN: number
  readonly highN: number
  readonly atS: number
  /** Greatest sample less its zero, and its index. */
  readonly sampleN: number
  readonly sampleIndex: number
  /** Standard uncertainties. */
  readonly noiseStandardN: number
  readonly betweenStandardN: number
}

export interface PeakOptions {
  readonly noiseN: number
  readonly quantumN: number
  readonly periodS: number
}

/** Greatest force of a pull: before the drop with the greatest force, or at the greatest sample. */
export function readPeak(
  timeS: Float64Array,
  loadN: Float64Array,
  pull: PullSpan,
  drops: readonly Drop[],
  { noiseN, quantumN, periodS }: PeakOptions,
): PullPeak {
  let sampleIndex = pull.from
  for (let i = pull.from; i < pull.to; i++) if (loadN[i]! > loadN[sampleIndex]!) sampleIndex = i
  const sampleN = loadN[sampleIndex]!
  let best: Drop | null = null
  for (const drop of drops) {
    if (drop.from >= pull.from && drop.to <= pull.to + 5 && (!best || drop.beforeN > best.beforeN))
      best = drop
  }
  const noiseStandardN = Math.hypot(noiseN, quantumN / Math.sqrt(12))
  if (best && best.beforeN > sampleN - 2 * noiseStandardN) {
    const last = lineAt(best.before, timeS[best.from]!)
    const growth = Math.max(0, best.beforeN - last)
    const between = Math.max(growth, (Math.abs(best.before.slopeNPerS) * periodS) / 2) / Math.sqrt(3)
    const standard = Math.hypot(best.beforeStandardN, between)
    return {
      valueN: best.beforeN,
      lowN: best.beforeN - 2 * standard,
      highN: best.beforeN + 2 * standard,
      atS: best.atS,
      sampleN,
      sampleIndex,
      noiseStandardN: best.beforeStandardN,
      betweenStandardN: between,
    }
  }
  return {
    valueN: sampleN,
    lowN: sampleN - 2 * noiseStandardN,
    highN: sampleN + 2 * noiseStandardN,
    atS: timeS[sampleIndex]!,
    sampleN,
    sampleIndex,
    noiseStandardN,
    betweenStandardN: 0,
  }
}

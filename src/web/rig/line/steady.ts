import { findPlateaus } from '../../../core/calibration/plateaus.ts'
import { readingStep } from '../../../core/calibration/resolution.ts'
import { displayStep } from '../../../core/signal/quantum.ts'
import { decimalsFor } from '../../../core/units/showForce.ts'

/** Where a line stands still. */
export interface Steady {
  readonly level: number
  /** Standard uncertainty of the level. */
  readonly standard: number
  /** For how long by now. */
  readonly forS: number
  /** Smallest step of its readings; `null` where it shows none. */
  readonly step: number | null
}

/** A reading that stands still for so long is one to take. */
export const STEADY_S = 2

/** The stand that a line is in at this moment; `null` while it moves, or has sent too little. */
export function steadyNow(timeS: Float64Array, value: Float64Array): Steady | null {
  const last = findPlateaus({ timeS, forceN: value }, { leastS: STEADY_S / 2 }).at(-1)
  if (!last || last.to < value.length) return null
  const step = readingStep([...new Set(value)]) ?? displayStep(value)
  return {
    level: last.level,
    standard: last.standard,
    forS: timeS[last.to - 1]! - timeS[last.from]!,
    step: step > 0 ? step : null,
  }
}

/** A level as a reading is written: to the digits that its own scatter allows, and one more. */
export const levelText = ({ level, standard }: Pick<Steady, 'level' | 'standard'>): string =>
  level
    .toFixed(standard > 0 ? decimalsFor(standard) : 6)
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '')

/** Whether a line stands elsewhere than at an earlier reading, beyond what it moves by itself. */
export const hasMovedFrom = (before: number | null, { level, standard, step }: Steady): boolean =>
  before === null || Math.abs(level - before) > Math.max(8 * standard, 2 * (step ?? 0))

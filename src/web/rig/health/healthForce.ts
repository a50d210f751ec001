import { healthWords } from '../../../core/health/units.ts'
import type { ForceUnit } from '../../../core/units/force.ts'

/** A force of the judgement in the unit that is shown, or in the log's own scale. */
export const healthForce = (valueN: number, forceUnit: string | null, unit: ForceUnit): string =>
  forceUnit === null || forceUnit === 'counts'
    ? healthWords(forceUnit).forceText(valueN)
    : healthWords(unit).forceText(valueN)

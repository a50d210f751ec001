import { type ForceUnit, fromNewton, type LogForceUnit, N_PER } from '../units/force.ts'
import { threeDigits } from '../units/showForce.ts'
import type { HealthOptions } from './types.ts'

/**
 * How forces of a check are told. `unit` is the log's, or another of force to show a log of forces in. Raw
 * counts, and a log whose unit is not told (`null`), have no newton: they are told in their own scale.
 */
export function healthWords(
  unit: LogForceUnit | null,
  show: ForceUnit | null = null,
): Pick<HealthOptions, 'forceText' | 'unit' | 'perUnit'> {
  if (unit === null || unit === 'counts') {
    const name = unit ?? 'units of the log'
    return { forceText: value => `${threeDigits(value)} ${name}`, unit: unit ?? '', perUnit: 1 }
  }
  const shown = show ?? unit
  return {
    forceText: forceN => `${threeDigits(fromNewton(forceN, shown))} ${shown}`,
    unit: shown,
    perUnit: N_PER[shown],
  }
}

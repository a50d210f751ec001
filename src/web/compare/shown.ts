import { doubtedWords, notBelow } from '../../core/answer/words.ts'
import { withUnit } from '../../core/statistics/compare/words.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { FORCE_UNITS, type ForceUnit, N_PER } from '../../core/units/force.ts'
import { decimalsFor, plainNumber, threeDigits } from '../../core/units/showForce.ts'

/** How the values of a comparison are shown: `per` of the document's unit in one of `unit`. */
export interface Shown {
  readonly unit: string
  readonly per: number
}

/** Forces go into the person's unit, force per width or area into that unit over it; all else stays. */
export function shownOf({ unit }: Comparison, force: ForceUnit): Shown {
  if (FORCE_UNITS.some(one => one === unit))
    return { unit: force, per: N_PER[force] / N_PER[unit as ForceUnit] }
  return { unit, per: 1 }
}

/** A figure to the digits that its half-width allows, without its unit. */
export function figureText(value: number, halfWidth: number | null, { per }: Shown): string {
  const shown = value / per
  return halfWidth !== null && halfWidth > 0
    ? plainNumber(shown, decimalsFor(halfWidth / per))
    : threeDigits(shown)
}

/** `12.3 kgf`, to the digits that a half-width allows; `null` becomes a dash. */
export function amountText(value: number | null, halfWidth: number | null, shown: Shown): string {
  if (value === null) return '–'
  return withUnit(figureText(value, halfWidth, shown), shown.unit)
}

/** Half of an interval's width; `null` for none. */
export const halfOf = (interval: readonly [number, number] | null): number | null =>
  interval && (interval[1] - interval[0]) / 2

/** `60.1 to 70.4 kgf`; what cannot be below nothing begins at 0 at least. */
export function spanText(
  interval: readonly [number, number] | null,
  shown: Shown,
  isNeverBelowZero = false,
): string {
  if (interval === null) return '–'
  const half = halfOf(interval)
  const [low, high] = notBelow(interval, isNeverBelowZero)
  const from = low === 0 ? '0' : figureText(low, half, shown)
  return withUnit(`${from} to ${figureText(high, half, shown)}`, shown.unit)
}

/** A figure with its interval: `68.2 ± 1.5 N`, or lopsided `2.3 kgf (1.4 to 6.6 kgf)`; without one, the figure alone. */
export const rangedText = (
  value: number | null,
  interval: readonly [number, number] | null,
  shown: Shown,
  isNeverBelowZero = false,
): string =>
  value === null || interval === null
    ? amountText(value, null, shown)
    : doubtedWords({ middle: value, low: interval[0], high: interval[1] }, shown, isNeverBelowZero)

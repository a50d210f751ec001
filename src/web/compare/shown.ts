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

/**
 * `12.3 ± 0.5 kgf`, or without a half-width `12.3 kgf`; `null` becomes a dash. Where the interval stands beside it the half
 * is left out, and gives the digits alone.
 */
export function amountText(
  value: number | null,
  halfWidth: number | null,
  shown: Shown,
  withHalf = true,
): string {
  if (value === null) return '–'
  const unit = shown.unit === '' ? '' : ` ${shown.unit}`
  if (halfWidth === null || !(halfWidth > 0)) return `${figureText(value, null, shown)}${unit}`
  if (!withHalf) return `${figureText(value, halfWidth, shown)}${unit}`
  const half = plainNumber(halfWidth / shown.per, decimalsFor(halfWidth / shown.per))
  return `${figureText(value, halfWidth, shown)} ± ${half}${unit}`
}

/** Half of an interval's width; `null` for none. */
export const halfOf = (interval: readonly [number, number] | null): number | null =>
  interval && (interval[1] - interval[0]) / 2

/** `60.1 to 70.4 kgf`. */
export function spanText(interval: readonly [number, number] | null, shown: Shown): string {
  if (interval === null) return '–'
  const half = halfOf(interval)
  const unit = shown.unit === '' ? '' : ` ${shown.unit}`
  return `${figureText(interval[0], half, shown)} to ${figureText(interval[1], half, shown)}${unit}`
}

/** A figure whose interval is lopsided: `2.3 kgf (1.4 to 6.6 kgf)`; without one, the figure alone. */
export function rangedText(
  value: number | null,
  interval: readonly [number, number] | null,
  shown: Shown,
): string {
  const figure = amountText(value, null, shown)
  return value === null || interval === null ? figure : `${figure} (${spanText(interval, shown)})`
}

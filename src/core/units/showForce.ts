import { fromNewton, type ShownUnit } from './force.ts'

/** Decimals past which a float says nothing, whatever the doubt. */
const MOST_DECIMALS = 9

/**
 * Decimals to which a figure is worth showing when its doubt is `halfWidth` (same unit): those that show the doubt
 * with two significant digits (GUM, JCGM 100:2008, 7.2.6: at most two are needed).
 */
export function decimalsFor(halfWidth: number): number {
  if (!(halfWidth > 0) || !Number.isFinite(halfWidth)) return MOST_DECIMALS
  // 0.0996 rounds up to 0.10: let the number itself say where its two digits end.
  const exponent = Number(halfWidth.toExponential(1).split('e')[1])
  return Math.min(MOST_DECIMALS, Math.max(0, 1 - exponent))
}

/** Decimals of a number's first three significant digits. */
const threeDigitDecimals = (value: number): number =>
  Math.min(MOST_DECIMALS, Math.max(0, 2 - Number(value.toExponential(2).split('e')[1])))

/**
 * Decimals for short words on a curve that reaches to `greatest`: those that `halfWidth` allows, but not past the second,
 * or, in a unit in which the curve is small, past three digits of its greatest force.
 */
export const decimalsInWords = (halfWidth: number, greatest: number): number =>
  Math.min(decimalsFor(halfWidth), greatest === 0 ? 2 : Math.max(2, threeDigitDecimals(greatest)))

/** A number with a true minus sign and no negative zero. */
export function plainNumber(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  if (Number(text) === 0) return text.replace('-', '')
  return text.replace('-', '−')
}

/** Ends of an interval in newton. */
export interface ForceEnds {
  readonly lowN: number
  readonly highN: number
}

/** An interval whose one side is longer than the other by more than this share of its width is lopsided. */
const LOPSIDED_SHARE = 0.2

/** Whether an interval reaches so much farther to one side that ± would mislead. */
export const isLopsided = (value: number, low: number, high: number): boolean =>
  Math.abs(high + low - 2 * value) > LOPSIDED_SHARE * (high - low)

/**
 * `68.2 ± 1.5 N`; without a doubt `68.2 N`, to three significant digits. Where the ends of the interval are known and lie
 * unlike on both sides, or one would lie below nothing, they are said instead: `68.2 N (67.1 to 70.4 N)`.
 */
export function showForce(
  valueN: number,
  halfWidthN: number | null,
  unit: ShownUnit,
  ends: ForceEnds | null = null,
): string {
  if (ends !== null && (isLopsided(valueN, ends.lowN, ends.highN) || isCut(valueN, ends.lowN)))
    return showForceBetween(valueN, ends.lowN, ends.highN, unit)
  const value = fromNewton(valueN, unit)
  if (halfWidthN === null || !(halfWidthN > 0)) return `${threeDigits(value)} ${unit}`
  const halfWidth = fromNewton(halfWidthN, unit)
  const decimals = decimalsFor(halfWidth)
  return `${plainNumber(value, decimals)} ± ${plainNumber(halfWidth, decimals)} ${unit}`
}

/** An interval by its ends: `68.2 N (67.1 to 70.4 N)`; that of a force that was held begins at 0 at least. */
export function showForceBetween(valueN: number, lowN: number, highN: number, unit: ShownUnit): string {
  const decimals = decimalsFor(fromNewton(highN - lowN, unit) / 2)
  const text = (forceN: number) => plainNumber(fromNewton(forceN, unit), decimals)
  const low = isCut(valueN, lowN) ? '0' : text(lowN)
  return `${text(valueN)} ${unit} (${low} to ${text(highN)} ${unit})`
}

/** Nothing holds less than nothing. */
const isCut = (value: number, low: number): boolean => low < 0 && value >= 0

/** A figure that carries no doubt of its own, to three significant digits and never in exponents. */
export function threeDigits(value: number): string {
  if (value === 0) return '0'
  return plainNumber(value, threeDigitDecimals(value))
}

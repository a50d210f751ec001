import { counted } from '../../counted.ts'
import { decimalsFor, plainNumber, threeDigits } from '../../units/showForce.ts'

/** How a comparison's amounts are shown: in the unit of the log, with the document's own beside. */
export interface Scale {
  /** The document's unit: `N`, `J`, `N/mm`, or whatever a table says; `''` for a bare number. */
  readonly unit: string
  /** Shown before it where it differs: `kgf` and the newton in one. */
  readonly shown: { readonly unit: string; readonly per: number } | null
}

/** `12.3 N`, or `1.25 kgf (12.3 N)`; to two digits of `halfWidth` where that is known, else to three digits. */
export function amount(value: number, scale: Scale, halfWidth: number | null = null): string {
  const own = withUnit(digitsOf(value, halfWidth), scale.unit)
  if (!scale.shown) return own
  const { unit, per } = scale.shown
  return `${withUnit(digitsOf(value / per, halfWidth === null ? null : halfWidth / per), unit)} (${own})`
}

/** `5.1 to 19.5 N`, both ends to the same digits; to more where an end would be rounded to 0: on which side of it says whether a difference is seen. */
export function span([low, high]: readonly [number, number], scale: Scale): string {
  const part = (per: number, unit: string): string => {
    const usual = decimalsFor((high - low) / 2 / per)
    const ends = [low / per, high / per].filter(end => end !== 0)
    const decimals =
      [0, 1, 2, 3].map(more => usual + more).find(d => ends.every(end => Number(end.toFixed(d)) !== 0)) ??
      usual
    const from = low === 0 ? '0' : plainNumber(low / per, decimals)
    return withUnit(`${from} to ${plainNumber(high / per, decimals)}`, unit)
  }
  const own = part(1, scale.unit)
  return scale.shown ? `${part(scale.shown.per, scale.shown.unit)} (${own})` : own
}

const digitsOf = (value: number, halfWidth: number | null): string =>
  halfWidth !== null && halfWidth > 0 ? plainNumber(value, decimalsFor(halfWidth)) : threeDigits(value)

export const withUnit = (figure: string, unit: string): string => (unit === '' ? figure : `${figure} ${unit}`)

/** `p = 0.018`; never `p = 0`. */
export const pText = (p: number): string =>
  p < 0.0001 ? 'p < 0.0001' : `p = ${p.toFixed(p < 0.01 ? 4 : p < 0.1 ? 3 : 2)}`

/** `43 %`; under 10 with one decimal. */
export const percent = (share: number): string => {
  const of100 = Math.abs(share * 100)
  return `${plainNumber(share * 100, of100 < 9.95 ? 1 : 0)} %`
}

/** `paste`, `paste and glue`, `paste, glue and stitch`. */
export const list = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`

/** `1 specimen`, `3 specimens`. */
export const specimens = (n: number): string => counted(n, 'specimen')

/** A bound as it is told: below nought, where nothing measured was, so few specimens say no more than nought. */
export const toldBound = (bound: number | null, min: number | null): number | null =>
  bound !== null && bound < 0 && (min ?? 0) > 0 ? 0 : bound

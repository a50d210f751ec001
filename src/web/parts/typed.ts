const NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i

/** A number as a person types it: a comma or a point, a minus of either kind. `null` where it is none. */
export function typedNumber(text: string): number | null {
  const bare = text.trim().replace(',', '.').replace('−', '-')
  const value = Number(bare)
  return NUMBER.test(bare) && Number.isFinite(value) ? value : null
}

/** What a typed figure comes to: a figure, `null` where the field is empty, `undefined` where it is none that fits. */
export type Typed = number | null | undefined

/** A whole number from 1. */
export function wholeOrNull(text: string): Typed {
  const value = aboveZeroOrNull(text)
  return typeof value !== 'number' || (Number.isInteger(value) && value <= 100_000) ? value : undefined
}

/** A number above 0. */
export function aboveZeroOrNull(text: string): Typed {
  if (text.trim() === '') return null
  const value = typedNumber(text)
  return value !== null && value > 0 ? value : undefined
}

/** A number of either sign between two limits. */
export const betweenOrNull =
  (least: number, most: number) =>
  (text: string): Typed => {
    if (text.trim() === '') return null
    const value = typedNumber(text)
    return value !== null && value >= least && value <= most ? value : undefined
  }

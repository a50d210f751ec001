import { typedNumber } from '../settings/unitList.ts'

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
    const bare = text.trim().replace('−', '-')
    if (bare === '') return null
    const size = typedNumber(bare.replace(/^[-+]/, ''))
    if (size === null) return undefined
    const value = bare.startsWith('-') ? -size : size
    return value >= least && value <= most ? value : undefined
  }

import { quantityWords } from '../statistics/compare/quantity.ts'
import { withUnit } from '../statistics/compare/words.ts'
import { decimalsFor, isLopsided, plainNumber, threeDigits } from '../units/showForce.ts'
import type { RankedVariant } from './document.ts'

/** The unit that amounts are shown in, and how much of the comparison's own unit is one of it. */
export interface ShownIn {
  readonly unit: string
  readonly per: number
}

/** Heads of columns with figures of variants and pairs, in two lines: the plain word first, that of the trade behind it. */
export const FIGURE_HEADS = {
  pulled: ['', 'pulled'],
  interval: ['95 %', 'interval'],
  spread: ['spread', '(sd)'],
  spreadShare: ['spread in %', '(CV)'],
  middle: ['middle', '(median)'],
  chance: ['by luck alone', '(p)'],
} as const

/** Heads of what most specimens hold, in two lines. */
export const mostHeads = (quantity: string) => {
  const { most } = quantityWords(quantity)
  return { of10: ['9 in 10', most], of100: ['99 in 100', most] } as const
}

/** What the figures under `mostHeads` are worth. */
export const MOST_WORDS = 'Of such figures for 9 in 10, 95 in 100 are not too high.'

/** What the figures under `FIGURE_HEADS.chance` mean. */
export const CHANCE_WORDS =
  'By luck alone (p): how often variants that are equal would differ so much or more.'

/** `1st`, `2nd or 3rd`, `1st to 3rd`, `1st, shared`; nothing where there is no place. */
export function placeWords(place: RankedVariant['place']): string {
  if (place === null) return ''
  const { from, to, shared } = place
  if (from === to) return shared ? `${ordinal(from)}, shared` : ordinal(from)
  return `${ordinal(from)} ${to === from + 1 ? 'or' : 'to'} ${ordinal(to)}`
}

function ordinal(n: number): string {
  const lastTwo = n % 100
  const ending = lastTwo > 10 && lastTwo < 14 ? 'th' : (['th', 'st', 'nd', 'rd'][n % 10] ?? 'th')
  return `${n}${ending}`
}

/** `9.8 ± 1.5 kgf`; `9.8 kgf (0 to 20 kgf)` where the interval is lopsided or would go below nothing; `at least 68 N`; why there is none. */
export function valueWords(
  { value, noValue = 'not measured' }: Pick<RankedVariant, 'value' | 'noValue'>,
  shown: ShownIn,
  isNeverBelowZero: boolean,
): string {
  if (value === null) return noValue
  const { middle, low, high, atLeast } = value
  if (atLeast) return `at least ${figure(middle, null, shown)}`
  return low === null || high === null
    ? figure(middle, null, shown)
    : doubtedWords({ middle, low, high }, shown, isNeverBelowZero)
}

/**
 * A value with the ends of its interval: with ± where they lie alike on both sides, else with the ends in brackets. What
 * cannot be below nothing has an interval from 0.
 */
export function doubtedWords(
  { middle, low, high }: { readonly middle: number; readonly low: number; readonly high: number },
  shown: ShownIn,
  isNeverBelowZero: boolean,
): string {
  const half = (high - low) / 2
  if (!(half > 0)) return figure(middle, null, shown)
  const ends = notBelow([low, high], isNeverBelowZero && middle >= 0)
  if (ends[0] === low && !isLopsided(middle, low, high))
    return withUnit(`${digits(middle, half, shown)} ± ${digits(half, half, shown)}`, shown.unit)
  return `${figure(middle, half, shown)} (${spanWords(ends, half, shown)})`
}

/** An interval as it is shown: what cannot be below nothing begins at 0 at least. */
export const notBelow = (
  [low, high]: readonly [number, number],
  isNeverBelowZero: boolean,
): [low: number, high: number] => [isNeverBelowZero ? Math.max(0, low) : low, high]

/** `2.7 more than hot-melt (1.1 to 4.4)`, `as good as hot-melt`, `hot-melt: not decided (0.5 less to 3.0 more)`. */
export function differenceWords(difference: RankedVariant['difference'], shown: ShownIn): string {
  if (difference === null) return ''
  const { to, verdict, by, low, high, chance } = difference
  if (verdict === 'as-good')
    return low === null || high === null
      ? `as good as ${to}`
      : `as good as ${to} (${lessToMore([low, high], shown)})`
  if (verdict === 'undecided')
    return low === null || high === null
      ? `not told from ${to}`
      : `not told from ${to} (${lessToMore([low, high], shown)})`
  if (chance !== null) return `beats ${to} ${Math.round(chance * 100)} times in 100`
  if (by === null || low === null || high === null) return `more than ${to}`
  const half = (high - low) / 2
  return `${digits(by, half, shown)} more than ${to} (${digits(low, half, shown)} to ${digits(high, half, shown)})`
}

/** `0.5 less to 3.0 more` */
function lessToMore([low, high]: readonly [number, number], shown: ShownIn): string {
  const half = (high - low) / 2
  const told = (value: number): string =>
    `${digits(Math.abs(value), half, shown)} ${value < 0 ? 'less' : 'more'}`
  return `${told(low)} to ${told(high)}`
}

/** `60.1 to 70.4`, both ends to the same digits; 0 is said plainly. */
function spanWords([low, high]: readonly [number, number], half: number, shown: ShownIn): string {
  return withUnit(`${low === 0 ? '0' : digits(low, half, shown)} to ${digits(high, half, shown)}`, shown.unit)
}

const digits = (value: number, half: number, { per }: ShownIn): string =>
  half > 0 ? plainNumber(value / per, decimalsFor(half / per)) : threeDigits(value / per)

const figure = (value: number, half: number | null, shown: ShownIn): string =>
  withUnit(half === null ? threeDigits(value / shown.per) : digits(value, half, shown), shown.unit)

/** Forces, works, stiffnesses and counts of ours are never below nothing; a table's column may be. */
export const isNeverBelowZero = (
  quantity: string,
  specimens: readonly { readonly value: number | null }[],
): boolean =>
  quantityWords(quantity).noun !== quantity || specimens.every(({ value }) => value === null || value >= 0)

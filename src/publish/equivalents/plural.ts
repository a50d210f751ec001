import type { Equivalent } from '../study/study.ts'

const COUNTS = [
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
]

/** `nine 1-litre milk cartons`: small counts in words, others in figures. */
export const counted = (count: number, { name, plural }: Pick<Equivalent, 'name' | 'plural'>): string =>
  `${countWord(count)} ${count === 1 ? name : plural.trim() || usualPlural(name)}`

export const countWord = (count: number): string => COUNTS[count - 1] ?? String(count)

/** The usual English plural, for a name that came without one of its own. */
export function usualPlural(name: string): string {
  if (/(?:s|x|z|ch|sh)$/i.test(name)) return `${name}es`
  if (/[^aeiou]y$/i.test(name)) return `${name.slice(0, -1)}ies`
  return `${name}s`
}

import type { Delimiter } from '../lines/split.ts'
import { type HeaderMeaning, headerMeaning } from './header.ts'

/** The names of a header and, where it has a row of them, its units; `''` where a column has none. */
export interface HeaderNames {
  readonly names: readonly string[]
  readonly units: readonly string[]
}

const meaningsOf = ({ names, units }: HeaderNames): HeaderMeaning[] =>
  names.map((name, c) => headerMeaning(name, units[c]))

/**
 * Whether a line of words among samples is a header beyond doubt: it names a force, and a time, a date or
 * (where blanks do not part the words, as they do in `no load`) a number of the row. Any other such line is a
 * note.
 */
export function namesRecord(header: HeaderNames, delimiter: Delimiter): boolean {
  const meanings = meaningsOf(header)
  const force = meanings.some(
    ({ role, standing }) => role === 'force' && (standing === 'plain' || standing === 'actual'),
  )
  const order = meanings.some(
    ({ role }) => role === 'time' || role === 'date' || (role === 'index' && delimiter !== ' '),
  )
  return force && order
}

/**
 * Whether two headers give the columns one meaning: both name a force and more, and no role or unit of one
 * stands against the other's.
 */
export function sameColumns(a: HeaderNames, b: HeaderNames): boolean {
  if (a.names.join() === b.names.join()) return true
  const others = meaningsOf(b)
  if (!namesRecord(a, ',')) return false
  return (
    a.names.length === b.names.length &&
    meaningsOf(a).every((meaning, c) => {
      const other = others[c]
      if (!other) return false
      const oneRole = meaning.role === null || other.role === null || meaning.role === other.role
      const oneUnit =
        meaning.unitText === '' ||
        other.unitText === '' ||
        meaning.unitText === other.unitText ||
        (meaning.unit !== null && JSON.stringify(meaning.unit) === JSON.stringify(other.unit))
      return oneRole && oneUnit
    })
  )
}

import { headerMeaning } from '../words/header.ts'
import type { Role } from '../words/roles.ts'
import { unitMeaning } from '../words/units.ts'
import type { Column } from './sampleTable.ts'

/**
 * The column of numbers to which a unit in column or key `at` belongs: the one before, if its name is of that
 * kind; then the only one that is so named; then the one before or the nearest without a telling name. An
 * unknown word is taken for a unit of force, so that it is told.
 */
export function unitOwner(columns: readonly Column[], at: number, word: string): Column | null {
  const meaning = unitMeaning(word)
  const wanted: readonly Role[] =
    meaning?.of === 'time'
      ? ['time']
      : meaning?.of === 'length'
        ? ['travel', 'extension']
        : meaning?.of === 'other'
          ? ['temperature']
          : ['force']
  const roleOf = (column: Column): Role | null => headerMeaning(column.name, column.unitRow).role
  const mayBe = (column: Column | undefined): boolean => {
    if (column?.form !== 'number') return false
    const role = roleOf(column)
    return role === null || wanted.includes(role)
  }
  const before = columns[at - 1]
  if (before && mayBe(before) && roleOf(before) !== null) return before
  const numbers = columns.filter(column => column.form === 'number')
  const named = numbers.filter(column => wanted.includes(roleOf(column) ?? 'note'))
  if (named.length === 1) return named[0] ?? null
  if (before && mayBe(before)) return before
  const unnamed = columns
    .map((column, index) => ({ column, distance: Math.abs(index - at) }))
    .filter(({ column }) => mayBe(column) && roleOf(column) === null)
    .sort((a, b) => a.distance - b.distance)
  return unnamed[0]?.column ?? null
}

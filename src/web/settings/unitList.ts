import type { ForceUnit } from '../../core/units/force.ts'

/** A unit one place earlier (−1) or later (+1); at the end of the list it stays. */
export function movedUnit(units: readonly ForceUnit[], unit: ForceUnit, by: -1 | 1): ForceUnit[] {
  const at = units.indexOf(unit)
  const to = at + by
  const other = units[to]
  if (at < 0 || other === undefined) return [...units]
  return units.map((one, i) => (i === at ? other : i === to ? unit : one))
}

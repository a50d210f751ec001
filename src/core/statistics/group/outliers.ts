import { dixon } from './dixon.ts'
import { generalizedEsd, LEAST_FOR_ESD } from './generalizedEsd.ts'
import { grubbs } from './grubbs.ts'
import type { Suspect } from './suspect.ts'

/**
 * Values that stand apart from their group, at the 5 % level for the whole group: Dixon's ratio below 8 values, Grubbs's test
 * up to 14, and from 15 the generalized ESD test for up to a tenth of the values, 10 at most and two at least.
 * A suspect is a question to the bench (a slip? a wrong label?), not a reason to drop the value.
 */
export function suspects(values: ArrayLike<number>): readonly Suspect[] {
  const n = values.length
  if (n >= LEAST_FOR_ESD) return generalizedEsd(values, Math.min(10, Math.max(2, Math.floor(n / 10))))
  const one = n < 8 ? dixon(values) : grubbs(values)
  return one === null ? [] : [one]
}

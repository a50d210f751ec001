import { expect, test } from 'vitest'
import { FORCE_UNITS } from '../../../src/core/units/force.ts'
import { keepTogether } from '../../../src/core/units/keepTogether.ts'

test.each([
  ['68.2 ± 1.5 N', '68.2\u00a0±\u00a01.5\u00a0N'],
  ['by 3.0 kgf (29 N) in 4 min', 'by 3.0\u00a0kgf (29\u00a0N) in 4\u00a0min'],
  ['54 % of 12 specimens', '54\u00a0% of 12 specimens'],
  ['5 of 5 Newton, 3 mast', '5 of 5 Newton, 3 mast'],
  ['2 N/mm, 3 N, 4 °C', '2\u00a0N/mm, 3\u00a0N, 4\u00a0°C'],
])('%s', (text, kept) => {
  expect(keepTogether(text)).toBe(kept)
})

test('every unit of force', () => {
  for (const unit of FORCE_UNITS) expect(keepTogether(`1.5 ${unit}.`)).toBe(`1.5\u00a0${unit}.`)
})

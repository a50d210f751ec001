import { expect, test } from 'vitest'
import { readChanged } from './layoutChanges.ts'

test('of twenty thousand logs whose layout changes in their midst none is read wrong in silence', () => {
  const { silent, right } = readChanged(20_000, 11)
  expect(silent).toEqual([])
  expect(right).toBeGreaterThan(5_000)
})

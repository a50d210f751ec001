import { expect, test } from 'vitest'
import { readChanged } from './layoutChanges.ts'

test('of logs whose layout changes in their midst none is read wrong in silence', () => {
  const { silent, right } = readChanged(400, 20_261_130)
  expect(silent).toEqual([])
  expect(right).toBeGreaterThan(100)
})

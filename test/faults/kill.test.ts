import { expect, test } from 'vitest'
import { killed } from './kills.ts'

test('15 kills at random moments lose no sample that arrived 200 ms before', async () => {
  const kills = await killed(1, 15, 3)
  expect(kills.reduce((n, { due }) => n + due, 0)).toBeGreaterThan(200)
})

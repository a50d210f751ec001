import { expect, test } from 'vitest'
import { killed } from './kills.ts'

test('200 kills at random moments lose no sample that arrived 200 ms before', async () => {
  const kills = await killed(1_000, 200, 3)
  expect(kills.reduce((n, { due }) => n + due, 0)).toBeGreaterThan(5_000)
})

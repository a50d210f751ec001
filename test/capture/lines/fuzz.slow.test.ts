import { test } from 'vitest'
import { fuzzed } from './fuzz.ts'

test('100,000 fuzzed streams, cut anywhere: nothing throws, all is finite, the cut means nothing', () => {
  fuzzed(1_000_000, 97_000, 100)
  fuzzed(2_000_000, 3_000, 1)
})

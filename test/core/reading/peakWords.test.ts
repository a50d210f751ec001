import { expect, test } from 'vitest'
import type { PeakForce } from '../../../src/core/reading/document.ts'
import { peakWords } from '../../../src/core/reading/peakWords.ts'

const peak: PeakForce = {
  status: 'measured',
  zero: 'seen',
  zeroAlternatives: null,
  valueN: 68.2,
  uncertaintyN: 1.5,
  lowN: 66.7,
  highN: 69.7,
  covers: [],
  atS: 14.2,
  indicatedN: 60.9,
}
const none = { valueN: null, uncertaintyN: null, lowN: null, highN: null }

test.each<[string, Partial<PeakForce>]>([
  ['68.2 ± 1.5 N', {}],
  ['68.2 ± 1.5 N', { zero: 'set-under-load' }],
  ['68.2 ± 1.5 N, as indicated', { zero: 'as-indicated' }],
  ['68.2 N (66.7 to 74.1 N), as indicated', { zero: 'as-indicated', highN: 74.1 }],
  ['at least 66.7 N', { status: 'at-least' }],
  ['at least 66.7 N, as indicated', { status: 'at-least', zero: 'as-indicated' }],
  ['did not break, reached 68.2 ± 1.5 N, as indicated', { status: 'not-reached', zero: 'as-indicated' }],
  ['peak not recorded', { status: 'not-recorded', ...none }],
  ['no pull in this record', { status: 'no-pull', zero: 'as-indicated', ...none }],
])('%s', (words, change) => {
  expect(peakWords({ ...peak, ...change }, 'N')).toBe(words)
})

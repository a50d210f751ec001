import { expect, test } from 'vitest'
import { demoStudy } from '../../../src/capture/pretend/index.ts'
import { readRecording } from '../../../src/core/reading/readRecording.ts'
import { nextOf, type Situation } from '../../../src/web/read/next.ts'

const reading = readRecording(demoStudy(1)[0]!.logs[0]!.recording)
const specimen = { name: 'a', status: 'pulled', failureMode: null, variantId: 'v' } as const
const done: Situation = {
  specimen: { name: 'a', status: 'pulled', failureMode: 'dots let go', variantId: 'v' },
  isRecorded: true,
  reading,
  hasFailed: false,
  isConflict: false,
  isWriting: false,
  isTried: false,
  hasModes: true,
  following: null,
}

test.each<[string, Partial<Situation>]>([
  ['not-recorded', { isRecorded: false, reading: null }],
  ['failed', { reading: null, hasFailed: true }],
  ['reading', { reading: null }],
  ['conflict', { isConflict: true, isTried: true, isWriting: true }],
  ['trying', { isTried: true, isWriting: true }],
  ['writing', { isWriting: true }],
  ['left-out', { specimen: { ...specimen, status: 'left-out', variantId: null } }],
  ['zero-unknown', { reading: { ...reading, warnings: [{ code: 'zero-unknown', text: '' }] } }],
  ['not-assigned', { specimen: { ...specimen, variantId: null } }],
  ['say-mode', { specimen }],
  ['next-specimen', { following: { id: 'b', name: 'b' } }],
  ['study', {}],
])('%s', (next, given) => {
  expect(nextOf({ ...done, ...given })).toBe(next)
})

test('a study without a list of modes does not ask for one', () => {
  expect(nextOf({ ...done, hasModes: false, specimen: { ...done.specimen, failureMode: null } })).toBe(
    'study',
  )
})

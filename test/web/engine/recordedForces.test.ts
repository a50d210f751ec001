import { expect, test } from 'vitest'
import { recordedForces } from '../../../src/web/engine/recordedForces.ts'
import { recordingOf } from '../../core/reading/recordingOf.ts'

const logs = { a: recordingOf(Float64Array.of(1, 2, 3), 1), b: recordingOf(Float64Array.of(4, 5), 1) }
const samplesOf = async (id: string) => logs[id as keyof typeof logs]
const joined = recordingOf(Float64Array.of(10, 20, 30, 40, 50), 1)

test.each([
  [0, 5, [1, 2, 3, 4, 5]],
  [1, 4, [2, 3, 4]],
  [3, 5, [4, 5]],
])('samples %i to %i of two logs as they were recorded', async (from, to, forces) => {
  expect([...(await recordedForces(['a', 'b'], joined, { from, to }, samplesOf))!]).toEqual(forces)
})

test('counts that have become forces are not shown as forces', async () => {
  const counts = { ...logs.a, forceUnit: 'counts' as const }
  expect(await recordedForces(['a', 'b'], joined, { from: 0, to: 2 }, async () => counts)).toBeNull()
})

test('logs that do not make up the whole tell nothing', async () => {
  expect(await recordedForces(['a'], joined, { from: 0, to: 2 }, samplesOf)).toBeNull()
})

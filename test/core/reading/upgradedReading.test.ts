import { expect, test } from 'vitest'
import { makePull } from '../../../src/capture/pretend/makePull.ts'
import { readingSchema, storedReadingSchema } from '../../../src/core/reading/document.ts'
import { upgradedReading } from '../../../src/core/reading/upgradedReading.ts'
import { perfectReading } from './harness/perfectReading.ts'

/** A document as version 1 wrote it: made from one of today by leaving out what came later. */
function versionOne(change: { code?: string; basis?: string }) {
  const now = structuredClone(perfectReading(makePull({ kind: 'hot-melt', seed: 1 }).truth))
  const { zero: _zero, zeroAlternatives: _alternatives, ...peakForce } = now.results.peakForce
  const { linesNotRead: _lines, ...recording } = now.recording
  return {
    ...now,
    version: 1,
    recording,
    zeros: now.zeros.map(z => ({ ...z, basis: change.basis ?? z.basis })),
    results: { ...now.results, peakForce },
    warnings: change.code ? [{ code: change.code, text: 'x' }] : [],
  }
}

test.each([
  [{}, 'seen', 'rest'],
  [{ code: 'zero-set-under-load' }, 'set-under-load', 'rest'],
  [{ code: 'zero-unknown', basis: 'assumed' }, 'as-indicated', 'indicated'],
] as const)('a reading of version 1 with %j says that its zero was %s', (change, zero, basis) => {
  const old = versionOne(change)
  expect(readingSchema.safeParse(old).success).toBe(false)
  const read = storedReadingSchema.parse(old)
  expect(read.results.peakForce).toMatchObject({
    zero,
    zeroAlternatives: null,
    valueN: old.results.peakForce.valueN,
  })
  expect(read.zeros.every(z => z.basis === basis)).toBe(true)
  expect(read.recording.linesNotRead).toBeNull()
})

test('what is no reading of version 1 stays as it is', () => {
  for (const other of [
    null,
    3,
    [],
    { document: 'tenterhook.reading', version: 2 },
    { document: 'tenterhook.reading', version: 1 },
  ])
    expect(upgradedReading(other)).toBe(other)
})

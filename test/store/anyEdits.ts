import fc from 'fast-check'
import type { SpecimenEdit } from '../../src/store/index.ts'

/** Steps of edits at random, for every home of studies. */

const PEAK = { value: 5, unit: 'kgf', isAtLeast: false, step: 0.1, doubt: null, who: 'Ada' } as const

export const RIG_OF_EDITS = {
  document: 'tenterhook.rig',
  version: 1,
  name: 'bench',
  calibrations: [
    {
      document: 'tenterhook.quick-scale',
      version: 1,
      date: '2026-05-01',
      basis: 'typed',
      readingUnit: 'N',
      newtonPerReading: 1.01,
      zeroReading: 0,
      appliedN: null,
      doubtPct: 1,
    },
  ],
}
export const CALIBRATION_KEY = '2026-05-01 N 1.01 0 1'

/** What steps can name: at least one specimen, three recordings on the first of them, two variants. */
interface Named {
  readonly ids: readonly string[]
  readonly recordings: readonly string[]
  readonly rigId: string
  readonly variants: readonly string[]
}

const drawnStep = fc.record({
  kind: fc.nat(11),
  a: fc.nat(9),
  b: fc.nat(9),
  name: fc.string({ minLength: 1, maxLength: 6 }),
})
type DrawnStep = typeof drawnStep extends fc.Arbitrary<infer T> ? T : never

export const anyEdits = fc.array(drawnStep, { minLength: 1, maxLength: 8 })

/** A drawn step in the words of a study; some name what is not there and are refused. */
export function stepIn(
  { ids, recordings, rigId, variants }: Named,
  { kind, a, b, name }: DrawnStep,
): SpecimenEdit {
  const specimenId = ids[a % ids.length]!
  const steps: readonly SpecimenEdit[] = [
    { kind: 'change', specimenId, fields: { name, note: name } },
    { kind: 'to-variant', specimenId, variant: b % 3 === 0 ? null : name },
    { kind: 'remove', specimenId },
    { kind: 'bring-back', specimenId },
    { kind: 'split', specimenId, recordingIds: [recordings[b % recordings.length]!], name },
    { kind: 'merge', specimenId, others: [ids[b % ids.length]!] },
    {
      kind: 'rig',
      recordingIds: [recordings[a % recordings.length]!],
      rigId: b % 2 ? rigId : null,
      calibration: b % 3 ? null : CALIBRATION_KEY,
    },
    {
      kind: 'remove-variant',
      variantId: variants[a % 2]!,
      specimensTo: b % 2 ? null : variants[(a + 1) % 2]!,
    },
    { kind: 'add', name, variant: b % 2 ? null : 'paste' },
    { kind: 'add', name, variant: null, fields: { typedPeak: PEAK, widthMm: 1 + b } },
    {
      kind: 'change',
      specimenId,
      fields: {
        typedPeak: b % 3 ? PEAK : null,
        pulledOn: `2026-05-0${1 + (b % 3)}`,
        pullOrder: 1 + b,
      },
    },
    {
      kind: 'order-logs',
      specimenId: ids[0]!,
      recordingIds: [2, 0, 1].map(one => recordings[(one + b) % 3]!),
    },
  ]
  return steps[kind]!
}

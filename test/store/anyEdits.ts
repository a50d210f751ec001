import fc from 'fast-check'
import { expect } from 'vitest'
import type { SpecimenEdit } from '../../src/store/index.ts'

/** Edits and undo at random, for every home of studies. */

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

/** How many steps `stepIn` knows; what is drawn from here on is undo. */
const STEPS = 12

const drawnStep = fc.record({
  kind: fc.nat(STEPS + 3),
  a: fc.nat(9),
  b: fc.nat(9),
  name: fc.string({ minLength: 1, maxLength: 6 }),
})
type DrawnStep = typeof drawnStep extends fc.Arbitrary<infer T> ? T : never

const anyEdits = fc.array(drawnStep, { minLength: 1, maxLength: 10 })

/** A drawn step in the words of a study; some name what is not there and are refused. */
function stepIn({ ids, recordings, rigId, variants }: Named, { kind, a, b, name }: DrawnStep): SpecimenEdit {
  const specimenId = ids[a % ids.length]!
  const steps: readonly SpecimenEdit[] = [
    { kind: 'change', specimenId, fields: { name, note: name } },
    { kind: 'to-variant', specimenId, variant: b % 3 === 0 ? null : name },
    // Always the same one, so that what is brought back was often removed before.
    { kind: 'remove', specimenId: ids[1]! },
    { kind: 'bring-back', specimenId: ids[1]! },
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

/** A home of studies, as a sequence of edits sees it. */
interface EditedHome {
  readonly study: Named
  /** All that a person said of the study, and what its specimens read, without times of change. */
  said(): Promise<string>
  /** The edit that came of a step; `null`: it was refused, or nothing came to change. */
  apply(step: SpecimenEdit): Promise<string | null>
  turn(editId: string, way: 'back' | 'again'): Promise<void>
}

/**
 * After any edits with undo among them the study is at each undo what it was before that edit; with all of
 * them taken back it is what it was at first, and done again what it had become. What is refused leaves no
 * trace. `begin`: the study that a sequence begins with, the same or a new one.
 */
export async function editsGoBack(begin: () => Promise<EditedHome>, numRuns: number): Promise<void> {
  const made = new Set<SpecimenEdit['kind']>()
  await fc.assert(
    fc.asyncProperty(anyEdits, async drawn => {
      const home = await begin()
      const done: { readonly id: string; readonly before: string; readonly after: string }[] = []
      let now = await home.said()
      const back = async ({ id, before }: (typeof done)[number]) => {
        await home.turn(id, 'back')
        now = await home.said()
        expect(now).toBe(before)
      }
      for (const one of drawn) {
        if (one.kind >= STEPS) {
          if (done.length > 0) await back(done.pop()!)
          continue
        }
        const step = stepIn(home.study, one)
        const id = await home.apply(step)
        const after = await home.said()
        expect(after !== now).toBe(id !== null)
        if (id !== null) {
          made.add(step.kind)
          done.push({ id, before: now, after })
        }
        now = after
      }
      for (const one of done.toReversed()) await back(one)
      for (const { id, after } of done) {
        await home.turn(id, 'again')
        expect(await home.said()).toBe(after)
      }
      for (const one of done.toReversed()) await back(one)
    }),
    { seed: 7, numRuns, endOnFailure: true },
  )
  // Every kind of edit was among them.
  expect([...made].sort()).toEqual([
    'add',
    'bring-back',
    'change',
    'merge',
    'order-logs',
    'remove',
    'remove-variant',
    'rig',
    'split',
    'to-variant',
  ])
}

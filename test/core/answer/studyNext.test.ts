import { expect, test } from 'vitest'
import type { NextStep } from '../../../src/core/answer/document.ts'
import { nextWithPlan, planLeft, type StudyFacts, studyNext } from '../../../src/core/answer/studyNext.ts'

const variants = [
  { id: 'a', name: 'paste' },
  { id: 'b', name: 'stitch' },
]
const plan = { order: ['stitch 1', 'paste 1', 'paste 2', 'stitch 2'] }
const specimen = (
  id: string,
  variantId: string | null,
  status: 'planned' | 'pulled' | 'left-out' = 'planned',
) => ({
  id,
  variantId,
  status,
})
const four = [specimen('1', 'a'), specimen('2', 'b'), specimen('3', 'a'), specimen('4', 'b')]
const blank: StudyFacts = { question: 'Which?', plan: null, variants, specimens: [], pulled: new Set() }
const tell: NextStep = { kind: 'tell', text: 'Tell it: nothing more is needed.', perGroup: null }

test.each([
  ['question', { question: ' ' }],
  ['assign', { specimens: [specimen('1', null)] }],
  ['variants', { variants: variants.slice(1) }],
  ['plan', {}],
  ['write-in', { plan }],
  ['write-in', { plan, specimens: four.slice(1) }],
  ['plan', { plan, variants: [...variants, { id: 'c', name: 'glue' }] }],
  [
    'plan',
    {
      plan,
      variants: [
        { id: 'a', name: 'paste' },
        { id: 'b', name: 'sewn' },
      ],
    },
  ],
  ['rig', { plan, specimens: four }],
  // Specimens that wait need no plan.
  ['rig', { specimens: four }],
] as const)('before the first pull: %s (%#)', (kind, given) => {
  expect(studyNext({ ...blank, ...given }, null).kind).toBe(kind)
})

test('what is planned is pulled before the answer says what comes then', () => {
  const left = (pulled: readonly string[], specimens = four) =>
    planLeft({ plan, variants, specimens, pulled: new Set(pulled) })
  expect(left(['1'])).toEqual({ plan: 'kept', unwritten: 0, toPull: 3 })
  expect(nextWithPlan(tell, left(['1']))).toMatchObject({
    kind: 'pull',
    text: 'Pull the 3 specimens that are left.',
  })
  expect(nextWithPlan(tell, left(['1', '2', '3'])).text).toBe('Pull the one specimen that is left.')
  expect(nextWithPlan(tell, left(['1', '2'], four.slice(0, 2)))).toMatchObject({
    kind: 'write-in',
    text: 'Write the 2 specimens of the plan into the notebook.',
  })
  expect(nextWithPlan(tell, left(['1', '2', '3', '4']))).toBe(tell)
})

test('what would make more pulls worth nothing comes before them', () => {
  const further: NextStep = { kind: 'reach-higher', text: 'Use a rig that reaches further.', perGroup: null }
  expect(nextWithPlan(further, { plan: 'kept', unwritten: 3, toPull: 2 })).toBe(further)
})

test('a plan of other variants is to be made anew; one whose labels are not ours is none', () => {
  const more = [...variants, { id: 'c', name: 'glue' }]
  const stale = planLeft({ plan, variants: more, specimens: four, pulled: new Set(['1']) })
  expect(stale.plan).toBe('stale')
  expect(nextWithPlan(tell, stale).kind).toBe('plan')
  for (const odd of [null, 'x', { order: 5 }, { order: ['paste-1'] }, { order: [] }])
    expect(planLeft({ plan: odd, variants, specimens: four, pulled: new Set() })).toEqual({
      plan: 'none',
      unwritten: 0,
      toPull: 4,
    })
})

test('once something is pulled the comparison decides, and without one the variants are asked for', () => {
  const pulled = new Set(['1'])
  expect(studyNext({ ...blank, question: '', specimens: four, pulled }, tell)).toBe(tell)
  expect(studyNext({ ...blank, specimens: four, pulled }, null).kind).toBe('compare')
  expect(studyNext({ ...blank, variants: [], specimens: four, pulled }, null).kind).toBe('variants')
})

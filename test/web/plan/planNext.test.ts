import { expect, test } from 'vitest'
import { planNext } from '../../../src/web/plan/planNext.ts'

const settled = { question: 'Which?', variants: 3, loose: 0, kept: 'yes', toSettle: 0 } as const

test.each([
  ['question', { question: ' ' }],
  ['assign', { loose: 2, variants: 0 }],
  ['variants', { variants: 1 }],
  ['keep', { kept: 'no', toSettle: 4 }],
  ['keep-again', { kept: 'stale', toSettle: 4 }],
  ['specimens', { toSettle: 1 }],
  ['rig', {}],
] as const)('%s', (next, given) => {
  expect(planNext({ ...settled, ...given })).toBe(next)
})

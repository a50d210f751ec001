import { describe, expect, test } from 'vitest'
import { adjustmentSchema } from '../../../../src/core/reading/adjustmentDocument.ts'
import {
  adjustmentOf,
  changeOf,
  type Draft,
  draftOf,
  emptyDraft,
  writtenIn,
} from '../../../../src/web/read/adjust/draft.ts'

const drafts: Draft[] = [
  { ...emptyDraft('zero-here'), fromS: '1', toS: '2,5' },
  { ...emptyDraft('cut'), fromS: '0', toS: '0.25' },
  { ...emptyDraft('shift'), fromS: '3', toS: '9', byMm: '−1.5' },
  { ...emptyDraft('shift'), fromS: '3', toS: '9', byS: '2' },
  { ...emptyDraft('drop-pull'), atS: '12' },
  { ...emptyDraft('relabel'), atS: '12', as: 'slip' },
  { ...emptyDraft('elements'), count: '8' },
  { ...emptyDraft('elements') },
  { ...emptyDraft('sensitivity'), factor: '2' },
]
const signature = { id: 'x1', who: ' Ann ', when: '2026-05-04T14:20:00Z' }

test.each(drafts)('what is written makes an adjustment that the document takes: $kind', draft => {
  const made = adjustmentOf({ ...draft, why: ' the grips hung free ' }, signature)
  if (!made.ok) throw new Error(JSON.stringify(made.fault))
  expect(adjustmentSchema.parse(made.adjustment)).toEqual(made.adjustment)
  expect(made.adjustment).toMatchObject({ id: 'x1', who: 'Ann', why: 'the grips hung free' })
})

test.each(drafts)('an adjustment can be written anew from itself: $kind', draft => {
  const made = adjustmentOf({ ...draft, why: 'seen' }, signature)
  if (!made.ok) throw new Error('not made')
  expect(changeOf(draftOf(made.adjustment))).toEqual(changeOf(draft))
})

describe('what is not right is told by its field', () => {
  test.each<[Partial<Draft> & Pick<Draft, 'kind'>, string, string]>([
    [{ kind: 'zero-here' }, 'fromS', 'missing'],
    [{ kind: 'zero-here', fromS: '1' }, 'toS', 'missing'],
    [{ kind: 'cut', fromS: 'one', toS: '2' }, 'fromS', 'not-a-number'],
    [{ kind: 'cut', fromS: '2', toS: '2' }, 'toS', 'not-later'],
    [{ kind: 'shift', fromS: '1', toS: '2' }, 'byMm', 'missing'],
    [{ kind: 'shift', fromS: '1', toS: '2', byS: 'far' }, 'byS', 'not-a-number'],
    [{ kind: 'drop-pull', atS: ' ' }, 'atS', 'missing'],
    [{ kind: 'relabel', atS: 'then' }, 'atS', 'not-a-number'],
    [{ kind: 'elements', count: '0' }, 'count', 'out-of-range'],
    [{ kind: 'elements', count: '2.5' }, 'count', 'out-of-range'],
    [{ kind: 'sensitivity', factor: '11' }, 'factor', 'out-of-range'],
    [{ kind: 'sensitivity', factor: '' }, 'factor', 'missing'],
  ])('%j', (given, field, what) => {
    expect(changeOf({ ...emptyDraft(given.kind), ...given })).toEqual({ ok: false, fault: { field, what } })
  })
  test('who and why must be said', () => {
    const draft: Draft = { ...emptyDraft('elements'), count: '8' }
    expect(adjustmentOf(draft, signature)).toEqual({ ok: false, fault: { field: 'why', what: 'missing' } })
    expect(adjustmentOf({ ...draft, why: 'seen' }, { ...signature, who: ' ' })).toEqual({
      ok: false,
      fault: { field: 'who', what: 'missing' },
    })
  })
})

test.each(drafts)('what was being written is found again after a reload: $kind', draft => {
  const written = { draft: { ...draft, why: 'half a rea' }, editedId: 'x1' }
  expect(writtenIn(JSON.stringify(written))).toEqual(written)
  expect(writtenIn(JSON.stringify({ draft }))).toEqual({ draft, editedId: null })
})

test.each([
  null,
  '',
  '{"draft":',
  '{}',
  '{"draft":{"kind":"cut"}}',
  JSON.stringify({ draft: { ...emptyDraft('cut'), kind: 'bend' } }),
  JSON.stringify({ draft: { ...emptyDraft('cut'), why: 3 } }),
])('what is no draft is none: %s', json => {
  expect(writtenIn(json)).toBeNull()
})

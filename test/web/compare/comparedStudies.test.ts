import { expect, test } from 'vitest'
import { comparedStudies, keyOf, namesOf } from '../../../src/web/compare/comparedStudies.ts'
import type { OpenStudy } from '../../../src/web/data/backend.ts'

const study = (id: string, quantity = 'force'): OpenStudy =>
  ({
    study: { id, name: `Study ${id}`, quantity },
    variants: [{ id: `${id}-v`, name: 'paste', control: false }],
    specimens: [
      { id: `${id}-1`, name: 'one', variantId: `${id}-v`, status: 'pulled', updatedAt: 't1' },
      { id: `${id}-2`, name: 'two', variantId: null, status: 'pulled', updatedAt: 't2' },
    ],
    readings: [{ id: `${id}-r` }],
    recordings: [
      { specimen: { id: `${id}-1` }, place: 0, startedAt: null, addedAt: 'first' },
      { specimen: { id: `${id}-1` }, place: 1, startedAt: 'second', addedAt: 'x' },
      { specimen: null, place: 0, startedAt: 'loose', addedAt: 'x' },
    ],
  }) as unknown as OpenStudy

test('one study is compared under its own names; one left out for a moment says why, and nothing else is touched', () => {
  const open = study('A', 'force-per-width')
  const compared = comparedStudies([open], new Set(['A-1']), 'to see')
  expect(compared.study.quantity).toBe('force-per-width')
  expect(compared.variants.map(({ name }) => name)).toEqual(['paste'])
  expect(compared.specimens[0]).toMatchObject({ status: 'left-out', statusReason: 'to see' })
  expect(compared.specimens[1]).toEqual(open.specimens[1])
  expect(open.specimens[0]?.status).toBe('pulled')
})

test('a specimen was pulled when its first recording was begun; when a log was taken in says nothing of that', () => {
  const open = study('A')
  expect([...comparedStudies([open], new Set(), '').pulledAt]).toEqual([])
  const recordings = open.recordings.map(one => (one.place === 0 ? { ...one, startedAt: 'first' } : one))
  expect([...comparedStudies([{ ...open, recordings }], new Set(), '').pulledAt]).toEqual([['A-1', 'first']])
})

test('of several studies the variants of one name stay apart, and those of no variant make none', () => {
  const opens = [study('A', 'force-per-area'), study('B')]
  const { study: first, variants, specimens, readings } = comparedStudies(opens, new Set(), '')
  expect(first.quantity).toBe('force-per-area')
  expect(variants.map(({ name }) => name)).toEqual(['Study A: paste', 'Study B: paste'])
  expect(specimens.map(({ variantId }) => variantId)).toEqual(['A-v', null, 'B-v', null])
  expect(readings).toHaveLength(2)
})

test('every specimen has the names that its comparison gives it', () => {
  const opens = [study('A'), study('B')]
  const names = namesOf(opens)
  expect(names.map(({ group }) => group)).toEqual([
    'Study A: paste',
    'Study A: no variant',
    'Study B: paste',
    'Study B: no variant',
  ])
  expect(new Set(names.map(keyOf)).size).toBe(4)
  expect(names[0]).toEqual({ id: 'A-1', studyId: 'A', name: 'one', group: 'Study A: paste', updatedAt: 't1' })
})

test('how often a study was looked at counts for it alone: over several studies no earlier look is told', () => {
  const plan = { document: 'tenterhook.plan', looks: { earlier: [3] } }
  const withPlan = (id: string): OpenStudy => {
    const open = study(id)
    return { ...open, study: { ...open.study, plan } }
  }
  expect(comparedStudies([withPlan('A')], new Set(), '').study.plan).toEqual(plan)
  expect(comparedStudies([withPlan('A'), withPlan('B')], new Set(), '').study).not.toHaveProperty('plan')
})

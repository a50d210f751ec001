import { expect, test } from 'vitest'
import { BLANK_STUDY } from '../../../src/core/study.ts'
import type { Study } from '../../../src/server/apiTypes.ts'
import type { OpenStudy } from '../../../src/web/data/backend.ts'
import { hasAnswer, shelved, variantNames } from '../../../src/web/shelf/shelved.ts'

const study = (name: string, question: string, updatedAt: string): Study => ({
  ...BLANK_STUDY,
  id: name,
  name,
  question,
  createdAt: '2026-01-01T00:00:00Z',
  updatedAt,
})
const handles = study('Handles', 'Which way holds best?', '2026-02-01T00:00:00Z')
const cords = study('Cords', 'Which CORD holds?', '2026-03-01T00:00:00Z')
const names = (found: readonly Study[]) => found.map(({ name }) => name)

test('what was changed last stands first', () =>
  expect(names(shelved([handles, cords], ''))).toEqual(['Cords', 'Handles']))
test('every word must stand in the name or the question, whatever its case', () => {
  expect(names(shelved([handles, cords], 'cord HOLDS'))).toEqual(['Cords'])
  expect(names(shelved([handles, cords], 'holds'))).toHaveLength(2)
  expect(shelved([handles, cords], 'cord paste')).toEqual([])
})

const blank: OpenStudy = { study: handles, variants: [], specimens: [], readings: [], recordings: [] }
test('one variant, however often pulled, is no answer', () => {
  const variant = (id: string) => ({
    id,
    studyId: 's',
    name: id,
    place: 0,
    control: false,
    elements: null,
    note: '',
  })
  const specimen = (id: string, variantId: string) =>
    ({ id, variantId, status: 'pulled' }) as OpenStudy['specimens'][number]
  const reading = (specimenId: string) => ({ specimenId }) as OpenStudy['readings'][number]
  const open = {
    ...blank,
    variants: [variant('a'), variant('b')],
    specimens: [specimen('1', 'a'), specimen('2', 'b')],
  }
  expect(hasAnswer({ ...open, readings: [reading('1')] })).toBe(false)
  expect(hasAnswer({ ...open, readings: [reading('1'), reading('2')] })).toBe(true)
})

test('variants are typed one a line; repeats and empty lines are passed over', () =>
  expect(variantNames(' hemp\n\nsisal ; hemp\r\n')).toEqual(['hemp', 'sisal']))

import { expect, test } from 'vitest'
import type { OpenStudy } from '../../../src/web/data/backend.ts'
import { ofItsKind } from '../../../src/web/read/ofItsKind.ts'

const specimen = (id: string, variantId: string | null, status = 'pulled') => ({ id, variantId, status })
const open = {
  specimens: [
    specimen('a1', 'a'),
    specimen('a2', 'a'),
    specimen('a3', 'a', 'left-out'),
    specimen('b1', 'b'),
    specimen('x1', null),
    specimen('x2', null),
  ],
  readings: ['a1', 'a2', 'a3', 'b1', 'x1', 'x2', null].map(specimenId => ({
    specimenId,
    reading: { warnings: [] },
  })),
} as unknown as OpenStudy

const kindOf = (id: string) => ofItsKind(open, id).readings.map(({ specimenId }) => specimenId)

test('the others of its variant that count, and itself whatever it counts', () => {
  expect(kindOf('a1')).toEqual(['a1', 'a2'])
  expect(kindOf('a3')).toEqual(['a1', 'a2', 'a3'])
})

test('practice and real pulls are not of one kind', () => {
  const mixed = {
    ...open,
    specimens: [...open.specimens, specimen('a4', 'a'), specimen('a5', 'a')],
    readings: [
      ...open.readings,
      ...['a4', 'a5'].map(specimenId => ({ specimenId, reading: { warnings: [{ code: 'practice' }] } })),
    ],
  } as unknown as OpenStudy
  const kind = (id: string) => ofItsKind(mixed, id).readings.map(({ specimenId }) => specimenId)
  expect(kind('a1')).toEqual(['a1', 'a2'])
  expect(kind('a4')).toEqual(['a4', 'a5'])
})

test('those of no variant are no kind', () => expect(kindOf('x1')).toEqual(['x1']))

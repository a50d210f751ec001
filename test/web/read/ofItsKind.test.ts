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
  readings: ['a1', 'a2', 'a3', 'b1', 'x1', 'x2', null].map(specimenId => ({ specimenId })),
} as unknown as OpenStudy

const kindOf = (id: string) => ofItsKind(open, id).readings.map(({ specimenId }) => specimenId)

test('the others of its variant that count, and itself whatever it counts', () => {
  expect(kindOf('a1')).toEqual(['a1', 'a2'])
  expect(kindOf('a3')).toEqual(['a1', 'a2', 'a3'])
})

test('those of no variant are no kind', () => expect(kindOf('x1')).toEqual(['x1']))

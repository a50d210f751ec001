import { expect, test } from 'vitest'
import { selvedgeLine } from '../../src/cli/selvedgeLine.ts'
import type { Stretch } from '../../src/core/reading/states.ts'

const stretches: Stretch[] = [
  { kind: 'rest', fromS: 0, toS: 4 },
  { kind: 'loading', fromS: 4, toS: 10 },
  { kind: 'gap', fromS: 10, toS: 10.1 },
  { kind: 'regrip', fromS: 10.1, toS: 20 },
]

test('stretches take room by their time, with words where they fit', () => {
  expect(selvedgeLine(stretches, 60)).toBe('0.0 s · rest ··── loading ─── xxxxxxx re-grip xxxxxxx 20.0 s')
})

test('every stretch keeps a mark, however narrow the terminal', () => {
  expect(selvedgeLine(stretches, 5)).toBe('0.0 s ·─ x 20.0 s')
})

test('nothing gives nothing', () => expect(selvedgeLine([], 60)).toBe(''))

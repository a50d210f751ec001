import { isDeepStrictEqual } from 'node:util'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { sameData } from '../../src/core/sameData.ts'

const data = fc.jsonValue({ maxDepth: 3 })

test('what is copied says the same, whatever the order of its keys', () => {
  fc.assert(
    fc.property(fc.dictionary(fc.string(), data), object => {
      const turned = Object.fromEntries(Object.entries(structuredClone(object)).reverse())
      expect(sameData(object, turned)).toBe(true)
    }),
    { seed: 20_261_130 },
  )
})

test('it is the deep comparison of Node for JSON', () => {
  fc.assert(
    fc.property(data, data, (a, b) => {
      const [left, right] = [JSON.parse(JSON.stringify(a)), JSON.parse(JSON.stringify(b))] as [
        unknown,
        unknown,
      ]
      expect(sameData(left, right)).toBe(isDeepStrictEqual(left, right))
    }),
    { seed: 20_261_130, numRuns: 500 },
  )
})

test('a key too many, an array for an object, another value deep inside are told', () => {
  expect(sameData({ a: 1 }, { a: 1, b: null })).toBe(false)
  expect(sameData({ a: undefined }, { b: 1 })).toBe(false)
  expect(sameData([1], { 0: 1 })).toBe(false)
  expect(sameData({ a: [{ b: 1 }] }, { a: [{ b: 2 }] })).toBe(false)
  expect(sameData(Number.NaN, Number.NaN)).toBe(true)
  expect(sameData(null, {})).toBe(false)
})

import { describe, expect, test } from 'vitest'
import { tensionSign } from '../../../src/logs/meaning/tension.ts'

/** Two minutes of a held load that relaxes, read every second: up within three readings, let down within four. */
const held = (restBefore: number, restAfter: number): Float64Array =>
  Float64Array.from([
    ...Array<number>(restBefore).fill(0),
    ...[4, 12, 20],
    ...Array.from({ length: 120 }, (_, s) => 14 + 6 * Math.exp(-s / 20)),
    ...[10, 6, 2],
    ...Array<number>(restAfter).fill(0),
  ])

describe('a load that was there nearly all the time', () => {
  test.each([
    [3, 4],
    [0, 4],
    [3, 0],
    [0, 0],
  ])(
    'with %d readings of rest before and %d after is tension, not a rest that is pushed upon',
    (before, after) => {
      expect(tensionSign(held(before, after), undefined).negative).toBe(false)
      expect(
        tensionSign(
          held(before, after).map(n => -n),
          undefined,
        ).negative,
      ).toBe(true)
    },
  )
})

test('a log that begins in the loading and ends in the hold does not stand at rest in it', () => {
  const forceN = Float64Array.from({ length: 120 }, (_, k) =>
    k < 4 ? 2 + 5 * k : 17 + 3 * Math.exp(-k / 20),
  )
  expect(tensionSign(forceN, undefined).negative).toBe(false)
})

test('a log that begins and ends in the hold, and reaches nought between, is of a load taken off', () => {
  const forceN = Float64Array.from({ length: 200 }, (_, k) =>
    Math.min(20, Math.max(0, Math.abs(k - 100) / 2 - 5)),
  )
  expect(tensionSign(forceN, undefined).negative).toBe(false)
})

test('a rest far from nought, with the pull below it, counts tension negative', () => {
  const forceN = Float64Array.from(
    { length: 200 },
    (_, k) => 30 - (k > 80 && k < 160 ? (k - 80) / 2 : 0) + 0.1 * Math.sin(k),
  )
  expect(tensionSign(forceN, undefined).negative).toBe(true)
})

test('a told sign that the log clearly goes against is said; it is refused where nothing pulls as told', () => {
  const pull = Float64Array.from({ length: 200 }, (_, k) => (k > 40 && k < 160 ? k - 40 : 0))
  const push = pull.map(n => -n)
  expect(tensionSign(push, 'positive')).toMatchObject({
    negative: false,
    assumption: { code: 'contradiction', text: expect.stringContaining('clearly down') },
  })
  expect(tensionSign(pull, 'negative')).toMatchObject({
    negative: true,
    assumption: { code: 'contradiction', text: expect.stringContaining('clearly up') },
  })
  expect(tensionSign(push, 'positive').against).toBe('down')
  expect(tensionSign(pull, 'negative').against).toBe('up')
  expect(tensionSign(pull, 'positive').assumption).toBe(null)
  expect(tensionSign(push, 'negative').assumption).toBe(null)
})

test.each([
  ['a recoil after it of a quarter', 0.25, 'down'],
  ['a pull half as far', 0.5, null],
])('of a push with %s, as told positive', (_, share, against) => {
  const both = Float64Array.from({ length: 300 }, (_, k) =>
    k > 40 && k < 160 ? 40 - k : k > 180 && k < 260 ? 120 * share * Math.sin(((k - 180) / 80) * Math.PI) : 0,
  )
  const { against: found, assumption } = tensionSign(both, 'positive')
  expect(found).toBe(against)
  expect(assumption?.code).toBe('contradiction')
})

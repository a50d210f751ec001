import { expect, test } from 'vitest'
import { type Ailment, ailments, checkRig, scoreOf } from './ailments.ts'

/** Each trouble over so many seeds; pairs take one seed each, another in every pair. The fuller table: benchmarks/health.ts. */
const SEEDS = 40
const EVERY_PAIR = 4

test(`healthy rigs of ${SEEDS} seeds: at most 2 % have anything invented`, () => {
  const invented = Array.from({ length: SEEDS }, (_, i) => scoreOf(checkRig(500 + i, []), []).invented)
  expect(invented.filter(codes => codes.length > 0).length).toBeLessThanOrEqual(0.02 * SEEDS)
})

test('each trouble of two seeds is named in 95 % with its size within 20 %', () => {
  let named = 0
  let sized = 0
  let all = 0
  for (const ailment of Object.values(ailments)) {
    for (let seed = 0; seed < 2; seed++) {
      const score = scoreOf(checkRig(60 + seed, [ailment]), [ailment])
      all++
      if (score.named[0]) named++
      if (score.sized[0]) sized++
    }
  }
  expect(named / all).toBeGreaterThanOrEqual(0.95)
  expect(sized / all).toBeGreaterThanOrEqual(0.95)
})

test('of pairs both are named in 95 %, sized in 95 %, and little is invented', () => {
  const given = Object.values(ailments)
  let named = 0
  let sized = 0
  let clean = 0
  let all = 0
  let turn = 0
  const hides = (a: Ailment, b: Ailment): boolean => a.hides?.includes(b.code) === true
  given.forEach((a, i) => {
    for (const b of given.slice(i + 1)) {
      if (a.code === b.code || hides(a, b) || hides(b, a)) continue
      if (turn++ % EVERY_PAIR > 0) continue
      const score = scoreOf(checkRig(200 + turn, [a, b]), [a, b])
      all++
      named += score.named.filter(Boolean).length
      sized += score.sized.filter(Boolean).length
      if (score.invented.length === 0) clean++
    }
  })
  expect(named / all / 2).toBeGreaterThanOrEqual(0.95)
  expect(sized / all / 2).toBeGreaterThanOrEqual(0.95)
  expect(clean / all).toBeGreaterThanOrEqual(0.95)
})

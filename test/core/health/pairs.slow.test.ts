import { expect, test } from 'vitest'
import { ailments, areTold, checkAnyRig, checkRig, scoreOf } from './ailments.ts'

/** Each trouble over a few seeds, and one pair in six; the full table is made by benchmarks/health.ts. */
const SEEDS = 40
const EVERY_PAIR = 6
const given = Object.values(ailments)

test(`healthy rigs of ${SEEDS} seeds, usual and of any kind: at most 2 % have anything invented`, () => {
  const invented = Array.from({ length: SEEDS }, (_, i) => [
    ...scoreOf(checkRig(500 + i, []), []).invented,
    ...scoreOf(checkAnyRig(500 + i, [])!, []).invented,
  ])
  expect(invented.filter(codes => codes.length > 0).length).toBeLessThanOrEqual(0.02 * 2 * SEEDS)
})

test('each trouble alone, usual and of any size, is named in 95 % with its size within 20 %', () => {
  let named = 0
  let sized = 0
  let all = 0
  for (const [i, ailment] of given.entries()) {
    for (const checked of [checkRig(60 + i, [ailment]), checkAnyRig(60 + i, [ailment])]) {
      if (checked === null) continue
      const score = scoreOf(checked, [ailment])
      all++
      if (score.named[0]) named++
      if (score.sized[0]) sized++
    }
  }
  expect(all).toBeGreaterThan(1.8 * given.length)
  expect(named / all).toBeGreaterThanOrEqual(0.95)
  expect(sized / all).toBeGreaterThanOrEqual(0.95)
})

test('of pairs on rigs of any kind both are named in 95 %, sized in 95 %, and little is invented', () => {
  let named = 0
  let sized = 0
  let clean = 0
  let all = 0
  let turn = 0
  given.forEach((a, i) => {
    for (const b of given.slice(i + 1)) {
      if (!areTold(a, b) || turn++ % EVERY_PAIR > 0) continue
      const checked = checkAnyRig(200 + turn, [a, b])
      if (checked === null) continue
      const score = scoreOf(checked, [a, b])
      all++
      named += score.named.filter(Boolean).length
      sized += score.sized.filter(Boolean).length
      if (score.invented.length === 0) clean++
    }
  })
  expect(all).toBeGreaterThan(30)
  expect(named / all / 2).toBeGreaterThanOrEqual(0.95)
  expect(sized / all / 2).toBeGreaterThanOrEqual(0.95)
  expect(clean / all).toBeGreaterThanOrEqual(0.95)
})

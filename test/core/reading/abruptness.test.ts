import { expect, test } from 'vitest'
import { abruptness, recordOdds } from '../../../src/core/reading/abruptness.ts'
import { findDrops } from '../../../src/core/reading/drops.ts'

const PERIOD_S = 0.1

/** A ramp of 1 N a reading, with a loss of 8 N at reading 60; `missing` readings are left out after reading 80. */
function ramp(missing: number): { timeS: Float64Array; loadN: Float64Array } {
  const kept = Array.from({ length: 120 }, (_, i) => i).filter(i => i <= 80 || i > 80 + missing)
  return {
    timeS: Float64Array.from(kept, i => i * PERIOD_S),
    loadN: Float64Array.from(kept, i => i - (i >= 60 ? 8 : 0)),
  }
}

const judge = ({ timeS, loadN }: { timeS: Float64Array; loadN: Float64Array }) =>
  abruptness(
    timeS,
    loadN,
    { from: 59, to: 60 },
    { from: 0, to: loadN.length, periodS: PERIOD_S, noiseN: 0.02, greatestN: 111 },
  )

test('what the force rose by while readings were missing is no texture', () => {
  const whole = judge(ramp(0))
  expect(whole.logOdds).toBeGreaterThan(0)
  for (const missing of [2, 10, 20]) expect(judge(ramp(missing)).ratio).toBeCloseTo(whole.ratio, 6)
})

test('a sudden rise between two readings is a texture', () => {
  const { timeS, loadN } = ramp(0)
  const jumps = loadN.map((v, i) => v + (i > 80 ? 10 : 0))
  expect(judge({ timeS, loadN: jumps }).logOdds).toBeLessThan(0)
})

test('falls that are texture, abrupt or gradual, speak against the others', () => {
  const abrupt = { logOdds: 1, ratio: 4 }
  const even = { logOdds: -1, ratio: 1 }
  expect(recordOdds([abrupt, abrupt], 0)).toBe(0)
  expect(recordOdds([abrupt, even, even], 0)).toBeCloseTo(Math.log(2 / 3), 12)
  expect(recordOdds([abrupt], 9)).toBeCloseTo(Math.log(2 / 10), 12)
})

test('among many teeth that fall over several readings a quick one of their size is no break', () => {
  // Teeth of 4 N: they rise unevenly in twelve readings and fall in six; the last of them falls in two.
  const shapes = Array.from({ length: 12 }, (_, k) => (k === 11 ? 2 : 6))
  const force: number[] = Array.from({ length: 40 }, () => 0)
  for (let i = 1; i <= 60; i++) force.push(i * 0.5)
  for (const down of shapes) {
    const top = force.at(-1)! + 4.2
    for (let i = 1; i <= 12; i++) force.push(top - 4.2 * (1 - Math.min(1, i / 12 + (i > 6 ? 0.45 : 0))))
    for (let i = 1; i <= down; i++) force.push(top - (4 * i) / down)
  }
  for (let i = 0; i < 30; i++) force.push(force.at(-1)! + 0.3)
  const loadN = Float64Array.from(force)
  const timeS = loadN.map((_, i) => i * 0.01)
  const pulls = [{ from: 40, to: loadN.length, open: false }]
  const found = (of: Float64Array) =>
    findDrops(timeS, of, pulls, [{ from: 0, to: of.length }], {
      noiseN: 0.02,
      quantumN: 0.01,
      periodS: 0.01,
      jitterS: 0,
      greatestN: Math.max(...of),
      thresholdN: 0.5,
      sensitivity: 1,
    }).drops
  expect(found(loadN)).toHaveLength(0)
  // Alone it is one.
  const alone = Float64Array.from([...force.slice(0, 101), ...force.slice(-44)])
  expect(found(alone)).toHaveLength(1)
})

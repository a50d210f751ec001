import { describe, expect, test } from 'vitest'
import type { Check } from '../../../src/core/calibration/checkDocument.ts'
import { judgeCheck } from '../../../src/core/calibration/judgeCheck.ts'
import { rigSchema } from '../../../src/core/calibration/rig.ts'
import { type Random, seededRandom } from '../../../src/core/statistics/random.ts'

/** The whole rule of the daily check over many rigs and days: how often it asks for a new calibration, and when. */

const DOUBT_PCT = 1
const rig = rigSchema.parse({
  cell: { capacityN: 200 },
  calibrations: [
    {
      document: 'tenterhook.quick-scale',
      version: 1,
      date: '2026-01-01',
      basis: 'one-mass',
      readingUnit: 'counts',
      newtonPerReading: 0.0005,
      zeroReading: 50_000,
      appliedN: 100,
      doubtPct: DOUBT_PCT,
    },
  ],
})
const calibration = rig.calibrations[0]!

/** One rig from day to day: what the check says on each, errors of the scale drawn from what the calibration allows. */
function told(r: Random, days: number, daySdPct: number, changePct: (day: number) => number) {
  const scalePct = (DOUBT_PCT / 1.96) * r.normal()
  const checks: Check[] = []
  return Array.from({ length: days }, (_, day) => {
    const errorPct = scalePct + daySdPct * r.normal() + changePct(day)
    const at = new Date(Date.UTC(2026, 0, 2 + day, 8)).toISOString()
    const { check } = judgeCheck(
      {
        at,
        appliedN: 10,
        appliedStandardN: 0.005,
        indicatedN: 10 * (1 + errorPct / 100),
        indicatedStandardN: 0.002,
        zeroN: 0,
        greatestN: 11,
      },
      checks,
      rig,
      calibration,
    )
    checks.push(check)
    const codes = check.findings.map(f => f.code)
    return {
      anew: codes.includes('scale-moved'),
      any: codes.some(c => ['scale-moved', 'outside-chart', 'drift'].includes(c)),
    }
  })
}

describe('“calibrate anew” for a healthy rig', () => {
  test.each([0.2, 0.5, 1])('which scatters by %s %% from day to day: at most one check in 200', daySdPct => {
    const r = seededRandom(41)
    const all = Array.from({ length: 120 }, () => told(r, 60, daySdPct, () => 0)).flat()
    const anew = all.filter(t => t.anew).length / all.length
    const any = all.filter(t => t.any).length / all.length
    console.log(
      `day ${daySdPct} %: calibrate anew ${(100 * anew).toFixed(2)} of 100, any word ${(100 * any).toFixed(2)}`,
    )
    expect(anew).toBeLessThan(0.0065)
    expect(any).toBeLessThan(0.012)
  })
})

describe('a scale that changes after 30 healthy days', () => {
  const caughtBy = (changePct: (day: number) => number, of: 'anew' | 'any') => {
    const r = seededRandom(42)
    const days = Array.from({ length: 60 }, () => {
      const after = told(r, 90, 0.5, day => (day < 30 ? 0 : changePct(day - 30))).slice(30)
      const found = after.findIndex(t => t[of])
      return found < 0 ? 99 : found
    }).sort((a, b) => a - b)
    return days[Math.floor(days.length / 2)]!
  }
  test('a slow drift of 0.1 % a day: a word within two weeks, “calibrate anew” within four', () => {
    expect(caughtBy(day => 0.1 * day, 'any')).toBeLessThan(14)
    expect(caughtBy(day => 0.1 * day, 'anew')).toBeLessThan(30)
  })
  test('a jump of 4 %: “calibrate anew” within three days', () =>
    expect(caughtBy(() => 4, 'anew')).toBeLessThan(3))
})

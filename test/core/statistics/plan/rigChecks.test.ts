import { describe, expect, test } from 'vitest'
import {
  isoLowestRateHz,
  lowestRateHz,
  type RigExpectation,
  regripsExpected,
  rigChecks,
  worstUnderRead,
} from '../../../../src/core/statistics/plan/rigChecks.ts'
import { referenceJson } from '../compare/reference.ts'

const reference = referenceJson('data_acquisition.json')
const rig: RigExpectation = {
  capacityN: 500,
  expectedPeakN: 200,
  rateHz: 80,
  averaged: 1,
  speedMmS: 1,
  strokeMm: 40,
  extensionMm: 20,
  timeToBreakS: null,
  accuracyPct: 1,
  health: null,
}
const failing = (change: Partial<RigExpectation>) => rigChecks({ ...rig, ...change }).filter(c => !c.ok)

test('lowest rates of ISO 6892-1 annex A, examples of data_acquisition.json', () => {
  for (const { strain_rate, E_MPa, R_eH_MPa, q_percent, f_min_Hz } of reference.iso_6892_1.examples)
    expect(isoLowestRateHz(strain_rate, E_MPa, R_eH_MPa, q_percent)).toBeCloseTo(f_min_Hz, 9)
})

test('the form in forces is the same formula: strain rate × modulus is the rate of stress', () => {
  // Derived there: 100 · force rate / (peak · q). With an area of 50 mm²:
  expect(lowestRateHz(0.00025 * 210_000 * 50, 350 * 50, 1)).toBeCloseTo(15, 9)
})

test('under-read of a steady ramp, table of data_acquisition.json (derived there)', () => {
  for (const row of reference.ramp_peak_capture.table_relative_to_peak) {
    expect(worstUnderRead(row.time_from_zero_to_break_s, row.samples_per_s, 1)).toBeCloseTo(
      row.worst_relative_loss,
      9,
    )
    expect(worstUnderRead(row.time_from_zero_to_break_s, row.samples_per_s, 3)).toBeCloseTo(
      row.with_3_sample_moving_mean_worst,
      9,
    )
  }
})

describe('rigChecks', () => {
  test('a rig that suits the plan passes all', () => expect(failing({})).toEqual([]))
  test('a peak under 20 % or over 80 % of the capacity', () => {
    expect(failing({ capacityN: 5000 })[0]!.text).toMatch(/4 % .* under 20 %/)
    expect(failing({ capacityN: 210 })[0]!.text).toMatch(/95 % .* over 80 %/)
    expect(failing({ capacityN: 150 })[0]!.text).toMatch(/never pull beyond it/)
  })
  test('ten readings a second for a pull of two seconds are too few, and the cure is in seconds', () => {
    const [sampling, under] = failing({ rateHz: 10, timeToBreakS: 2 })
    expect(sampling!.text).toMatch(/50.0 are needed.*over 10.0 s/)
    expect(under!.text).toMatch(/5.00 %/)
  })
  test('a stroke shorter than the extension: the re-grips to expect', () => {
    expect(failing({ extensionMm: 100 })[0]!.text).toMatch(/expect 2 re-grips/)
    expect([39, 40, 41, 80, 81].map(mm => regripsExpected(mm, 40))).toEqual([0, 0, 1, 1, 2])
  })
  test('what is not known is named, never passed', () => {
    expect(failing({ capacityN: null, rateHz: null })).toMatchObject([
      { check: 'missing', text: 'Not checked for want of: the cell’s capacity, the sampling rate.' },
    ])
  })
})

describe('what the last check of the rig’s health found', () => {
  const health = { day: '2031-05-04', leastDropN: 2.1, waitMin: null }
  const found = (change: Partial<RigExpectation>) =>
    rigChecks({ ...rig, ...change }).filter(c => c.check === 'least-drop' || c.check === 'warm-up')

  test('nothing is said without one', () => expect(found({})).toEqual([]))

  test('the least drop that can be seen, and whether that is little of the peak', () => {
    expect(found({ health })).toEqual([
      {
        check: 'least-drop',
        ok: true,
        text: 'With this rig a drop under 2.10 N cannot be seen, 1.05 % of the peak expected (its check of 2031-05-04).',
      },
    ])
    expect(found({ health: { ...health, leastDropN: 10.1 } })[0]!.ok).toBe(false)
    expect(found({ health: { ...health, leastDropN: 9.9 } })[0]!.ok).toBe(true)
    expect(found({ health, expectedPeakN: null })[0]!.text).toContain('cannot be seen (')
  })

  test('a rig that has to warm up is to be switched on before', () => {
    const [, wait] = found({ health: { ...health, waitMin: 11.2 } })
    expect(wait).toMatchObject({ check: 'warm-up', ok: false })
    expect(wait!.text).toContain('Switch the rig on 12 minutes before')
    expect(found({ health: { ...health, waitMin: 0 } })).toHaveLength(1)
  })
})

test('twice as accurate asks for twice as many readings a second', () => {
  expect(isoLowestRateHz(0.00025, 210_000, 350, 0.5)).toBeCloseTo(
    2 * isoLowestRateHz(0.00025, 210_000, 350, 1),
    9,
  )
  expect(lowestRateHz(100, 200, 0.5)).toBeCloseTo(2 * lowestRateHz(100, 200, 1), 9)
})

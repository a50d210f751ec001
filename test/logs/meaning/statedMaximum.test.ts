import { expect, test } from 'vitest'
import { extentOf } from '../../../src/core/signal/extent.ts'
import { compareMaximum, type StatedMaximum, unitByMaximum } from '../../../src/logs/meaning/statedMaximum.ts'
import type { ScaledUnit } from '../../../src/logs/words/units.ts'

const newton = { of: 'force', unit: 'N', times: 1 } as unknown as ScaledUnit
const kilonewton = { of: 'force', unit: 'N', times: 1000 } as unknown as ScaledUnit
const stated = (value: number, unit: ScaledUnit | null = null): StatedMaximum => ({ value, unit, line: 3 })
const readings = Float64Array.of(0, 10, 40, 80, 80, 0)
const compared = (one: StatedMaximum, forceUnit: 'N' | 'kgf' | 'counts' | null) =>
  compareMaximum([one], readings, extentOf(readings), forceUnit)

test('a maximum without a unit is in that of the log', () => {
  expect(compared(stated(80), 'N')?.agrees).toContain('line 3')
  // 80 N are 8.1577 kgf (1 kgf = 9.80665 N).
  expect(compared(stated(8.158), 'kgf')?.agrees).toContain('8.158')
  expect(compared(stated(80), 'kgf')?.assumption?.text).toContain('the greatest reading is 8.1577 kgf')
})

test('in raw counts, and where the unit is not told, the bare numbers are compared', () => {
  for (const unit of ['counts', null] as const) {
    expect(compared(stated(80), unit)?.assumption).toBeNull()
    expect(compared(stated(95), unit)?.assumption?.text).toContain('the greatest reading is 80')
  }
})

test('a unit beside it counts', () => {
  expect(compared(stated(0.08, kilonewton), 'N')?.assumption).toBeNull()
  expect(compared(stated(0.08, newton), 'N')?.assumption).not.toBeNull()
})

test('it is the same within one in a hundred', () => {
  expect(compared(stated(80.7), 'N')?.assumption).toBeNull()
  expect(compared(stated(81), 'N')?.assumption).not.toBeNull()
})

test('of several that are stated none is held against the readings where none agrees', () => {
  expect(compareMaximum([stated(300), stated(400)], readings, extentOf(readings), 'N')).toBeNull()
  expect(compareMaximum([], readings, extentOf(readings), 'N')).toBeNull()
})

test('the unit in which a stated maximum is the greatest number', () => {
  expect(unitByMaximum([stated(0.08, kilonewton)], 80)?.unit).toBe(kilonewton)
  expect(unitByMaximum([stated(0.08, newton), stated(80, newton)], 80)?.value).toBe(80)
  expect(unitByMaximum([stated(80)], 80)).toBeNull()
})

import { describe, expect, test } from 'vitest'
import {
  gravityAt,
  halfLastDigit,
  normalGravity,
  STANDARD_GRAVITY_MS2,
  typedGravity,
  UNKNOWN_GRAVITY,
} from '../../../src/core/units/gravity.ts'

test('standard gravity is exact', () => expect(STANDARD_GRAVITY_MS2).toBe(9.80665))

describe('normal gravity of WGS84 (TR8350.2; computed with NumPy from its constants)', () => {
  const rows = [
    [0, 0, 9.7803253359],
    [10, 0, 9.78188240063],
    [45, 0, 9.80619776937],
    [51.5, 0, 9.81203357505],
    [90, 0, 9.83218493786],
    [45, 500, 9.80465517567],
    [45, 1000, 9.80311294355],
    [40, 1600, 9.79676123773],
    [-33.9, 50, 9.79625435726],
    [60, 2000, 9.81301090709],
  ] as const
  for (const [latitude, height, expected] of rows)
    test(`latitude ${latitude}°, height ${height} m`, () =>
      expect(normalGravity(latitude, height)).toBeCloseTo(expected, 9))
  test('GRS80 differs by less than 2e-6 (check values 9.780326772, 9.806199203, 9.832186368; Moritz)', () => {
    expect(Math.abs(normalGravity(0) - 9.780326772)).toBeLessThan(2e-6)
    expect(Math.abs(normalGravity(45) - 9.806199203)).toBeLessThan(2e-6)
    expect(Math.abs(normalGravity(90) - 9.832186368)).toBeLessThan(2e-6)
  })
  test('north and south alike', () => expect(normalGravity(-52, 34)).toBe(normalGravity(52, 34)))
  test('no such latitude', () => {
    expect(() => normalGravity(91)).toThrow(RangeError)
    expect(() => normalGravity(Number.NaN)).toThrow(RangeError)
    expect(() => normalGravity(10, Number.NaN)).toThrow(RangeError)
  })
})

describe('the doubt of gravity', () => {
  test('typed: half a unit of the last digit', () => {
    expect(halfLastDigit('9.81')).toBeCloseTo(0.005, 15)
    expect(halfLastDigit('9,8123')).toBeCloseTo(0.00005, 15)
    expect(halfLastDigit('52')).toBe(0.5)
    expect(typedGravity(9.81, 0.005)).toMatchObject({ ms2: 9.81, halfWidthMs2: 0.005, from: 'typed' })
  })
  test('unknown place: covers the equator and the poles', () => {
    const { ms2, halfWidthMs2 } = UNKNOWN_GRAVITY
    expect(ms2 - halfWidthMs2).toBeLessThan(normalGravity(0))
    expect(ms2 + halfWidthMs2).toBeGreaterThan(normalGravity(90))
  })
  test('a latitude known to half a degree adds up to 0.00045 m/s²', () => {
    const exact = gravityAt(45, 0).halfWidthMs2
    expect(gravityAt(45, 0, 0.5).halfWidthMs2 - exact).toBeCloseTo(0.00045, 4)
    expect(gravityAt(90, 0, 0.5).halfWidthMs2).toBeGreaterThan(0)
  })
})

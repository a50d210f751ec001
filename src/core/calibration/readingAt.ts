import { polynomialAt, slopeAt } from './polynomial.ts'

/**
 * The reading at which a fitted polynomial gives `forceN` (Newton's method from the nearest of the `near` readings);
 * `null` where it never does.
 */
export function readingAt(
  coefficients: readonly number[],
  forceN: number,
  near: readonly number[],
): number | null {
  const off = (reading: number) => Math.abs(polynomialAt(coefficients, reading) - forceN)
  let reading = near.reduce((best, r) => (off(r) < off(best) ? r : best), near[0] ?? 0)
  for (let step = 0; step < 60; step++) {
    const slope = slopeAt(coefficients, reading)
    if (slope === 0) return null
    const move = (polynomialAt(coefficients, reading) - forceN) / slope
    if (!Number.isFinite(move)) return null
    reading -= move
    if (Math.abs(move) <= 1e-13 * (Math.abs(reading) + Math.abs(move))) return reading
  }
  return off(reading) <= 1e-9 * Math.abs(forceN) ? reading : null
}

import type { AccuracyClass } from './document.ts'

export interface ClassLimits {
  /** q, ±. */
  readonly indicationPct: number
  /** b. */
  readonly repeatabilityPct: number
  /** v, ±. */
  readonly reversibilityPct: number
  /** f0, ±. */
  readonly zeroPct: number
  /** a. */
  readonly resolutionPct: number
}

const row = (q: number, b: number, v: number, f0: number, a: number): ClassLimits => ({
  indicationPct: q,
  repeatabilityPct: b,
  reversibilityPct: v,
  zeroPct: f0,
  resolutionPct: a,
})

/**
 * Limits of the accuracy classes, ISO 7500-1:2018, table 2. FROM MEMORY: no readable copy of the standard was at hand.
 * Every output that names a class carries {@link LIMITS_NOTE}.
 */
export const CLASS_LIMITS: readonly (readonly [AccuracyClass, ClassLimits])[] = [
  ['0.5', row(0.5, 0.5, 0.75, 0.05, 0.25)],
  ['1', row(1, 1, 1.5, 0.1, 0.5)],
  ['2', row(2, 2, 3, 0.2, 1)],
  ['3', row(3, 3, 4.5, 0.3, 1.5)],
]

export const LIMITS_NOTE = 'limits as commonly given for ISO 7500-1; check the standard'

/**
 * What a class asks of the way it was tested. Five steps (the standard wants them from a fifth of the range
 * up; here a lower one counts too) in three runs: ISO 7500-1, from memory. The masses: 95 % half-width of a force no more than a fifth of the class's limit of indication, 0.1 % for class 0.5
 * (that figure is the standard's for weights, from memory; the fifth for the other classes is common practice, no source).
 */
export const LEAST_STEPS = 5
export const LEAST_RUNS = 3
export const MASSES_SHARE = 0.2

/** A class is told for a range that reaches down to this share of the greatest force at least (from memory as well). */
export const LEAST_RANGE_SHARE = 0.2

import { mean, standardDeviation } from '../statistics/group/moments.ts'
import type { Input, SharedBy } from './input.ts'

/** Type A: the mean of repeated readings, s/√n with n − 1 degrees of freedom (GUM 4.2.3). At least two readings. */
export function sampledInput(name: string, readings: ArrayLike<number>, shared: SharedBy = 'none'): Input {
  const n = readings.length
  if (n < 2) throw new RangeError(`the scatter of ${name} needs at least two readings, got ${n}`)
  return {
    name,
    value: mean(readings),
    standard: standardDeviation(readings) / Math.sqrt(n),
    df: n - 1,
    shape: 'normal',
    shared,
  }
}

/** Correlation of the means of two quantities that were read together: that of the readings (GUM 5.2.3, equation 17). */
export function sampledCorrelation(a: ArrayLike<number>, b: ArrayLike<number>): number {
  const middleA = mean(a)
  const middleB = mean(b)
  let ab = 0
  let aa = 0
  let bb = 0
  for (let i = 0; i < a.length; i++) {
    const offA = a[i]! - middleA
    const offB = b[i]! - middleB
    ab += offA * offB
    aa += offA * offA
    bb += offB * offB
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0
}

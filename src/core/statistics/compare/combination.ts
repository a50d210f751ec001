import type { Matrix } from 'ml-matrix'

/** |R⁻ᵀ c|: the standard error of a combination of the coefficients in units of the scatter. */
export function lengthThrough(r: Matrix, combination: readonly number[]): number {
  return Math.hypot(...directionThrough(r, combination))
}

/** R⁻ᵀ c of a fit's triangular R: its length is that standard error, and two combinations hang together as their directions do. */
export function directionThrough(r: Matrix, combination: readonly number[]): number[] {
  const z: number[] = []
  for (let i = 0; i < combination.length; i++) {
    let left = combination[i]!
    for (let j = 0; j < i; j++) left -= r.get(j, i) * z[j]!
    z.push(left / r.get(i, i))
  }
  return z
}

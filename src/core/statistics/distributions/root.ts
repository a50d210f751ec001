/**
 * A root of the continuous `f` between `low` and `high`, where it has opposite signs.
 * Brent's method (Brent 1973, Algorithms for Minimization without Derivatives, chapter 4): never slower than
 * halving for long, and to the last digits that `f` allows. Throws when the ends have one sign: the caller brackets.
 */
export function findRoot(f: (x: number) => number, low: number, high: number): number {
  let a = low
  let b = high
  let fa = f(a)
  let fb = f(b)
  if (fa === 0) return a
  if (fb === 0) return b
  if (!(fa * fb < 0)) throw new RangeError(`no change of sign between ${low} (${fa}) and ${high} (${fb})`)
  let c = a
  let fc = fa
  let step = b - a
  let stepBefore = step
  for (let turn = 0; turn < 200; turn++) {
    if (Math.abs(fc) < Math.abs(fb)) {
      ;[a, b, c] = [b, c, b]
      ;[fa, fb, fc] = [fb, fc, fb]
    }
    const tolerance = 2 * Number.EPSILON * Math.abs(b)
    const toMiddle = (c - b) / 2
    if (fb === 0 || Math.abs(toMiddle) <= tolerance) return b
    if (Math.abs(stepBefore) > tolerance && Math.abs(fa) > Math.abs(fb)) {
      const { over, under } = interpolation(a, b, c, fa, fb, fc)
      const bold =
        2 * over < Math.min(3 * toMiddle * under - Math.abs(tolerance * under), Math.abs(stepBefore * under))
      stepBefore = bold ? step : toMiddle
      step = bold ? over / under : toMiddle
    } else {
      stepBefore = toMiddle
      step = toMiddle
    }
    a = b
    fa = fb
    b += Math.abs(step) > tolerance ? step : Math.sign(toMiddle) * tolerance
    fb = f(b)
    if (fb > 0 === fc > 0) {
      c = a
      fc = fa
      step = b - a
      stepBefore = step
    }
  }
  return b
}

/** The step from `b` as a fraction: inverse quadratic through three points, a secant where only two differ. */
function interpolation(a: number, b: number, c: number, fa: number, fb: number, fc: number) {
  const s = fb / fa
  let over: number
  let under: number
  if (a === c) {
    over = (c - b) * s
    under = 1 - s
  } else {
    const q = fa / fc
    const r = fb / fc
    over = s * ((c - b) * q * (q - r) - (b - a) * (r - 1))
    under = (q - 1) * (r - 1) * (s - 1)
  }
  if (over > 0) under = -under
  return { over: Math.abs(over), under }
}

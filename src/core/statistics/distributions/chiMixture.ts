import { logGamma } from './gamma.ts'
import { gaussLegendre, integrate } from './quadrature.ts'

const RULE = gaussLegendre(44)
/** Natural logarithm of the share of its top below which the integrand is left out. */
const NEGLIGIBLE = -40

/**
 * The mean of `g(s)` over s = √(χ²/df), the ratio of an estimated to a true standard deviation; `logG` is ln g.
 *
 * g must be log-concave, as probabilities of normal events are. The integrand then has one hump: its top is found
 * first, and Gauss–Legendre is laid over the hump alone, left and right of the top, so that a result of 1e-30 keeps
 * as many digits as one of 0.5. `df` ≥ 1.
 */
export function chiMixture(logG: (s: number) => number, df: number): number {
  const logNorm = Math.LN2 + (df / 2) * Math.log(df / 2) - logGamma(df / 2)
  const log = (s: number): number =>
    logNorm + (df === 1 ? 0 : (df - 1) * Math.log(s)) - (df * s * s) / 2 + logG(s)
  const top = nearTop(log)
  const height = log(top)
  if (!(height > -745)) return 0
  const share = (s: number): number => Math.exp(log(s) - height)
  const high = edge(log, top, height + NEGLIGIBLE, 1)
  const knee = top + 0.15 * (high - top)
  const right = integrate(share, top, knee, RULE) + integrate(share, knee, high, RULE)
  return Math.exp(height) * (leftOf(top, share, edge(log, top, height + NEGLIGIBLE, -1)) + right)
}

/** Left of the top. Down to 0, s = top·u³ smooths the corner that s^(df − 1) has there for a broken df. */
const leftOf = (top: number, share: (s: number) => number, low: number): number =>
  low > 0
    ? integrate(share, low, top, RULE)
    : integrate(u => 3 * u * u * top * share(top * u ** 3), 0, 1, RULE)

/** A point within half a unit of the top of the concave `log`: bracketed by doubling, then golden section. */
function nearTop(log: (s: number) => number): number {
  let middle = 1
  let best = log(middle)
  for (const factor of [2, 0.5]) {
    for (let next = log(middle * factor); next > best && middle > 1e-150; next = log(middle * factor)) {
      middle *= factor
      best = next
    }
  }
  let low = middle / 2
  let high = middle * 2
  const golden = (3 - Math.sqrt(5)) / 2
  for (let turn = 0; turn < 60 && Math.min(log(low), log(high)) < best - 0.5; turn++) {
    const left = middle - low > high - middle
    const tried = left ? middle - golden * (middle - low) : middle + golden * (high - middle)
    const value = log(tried)
    if (value > best) {
      if (left) high = middle
      else low = middle
      middle = tried
      best = value
    } else if (left) low = tried
    else high = tried
  }
  return middle
}

/** Where, on one side of the top, the concave `log` has fallen to `floor`; 0 bounds it below. */
function edge(log: (s: number) => number, top: number, floor: number, side: -1 | 1): number {
  const lasts = (step: number): boolean => top + side * step > 0 && log(top + side * step) > floor
  let inside = 0
  let outside = top / 256
  while (lasts(outside)) {
    inside = outside
    outside *= 2
  }
  for (let halving = 0; halving < 4; halving++) {
    const between = (inside + outside) / 2
    if (lasts(between)) inside = between
    else outside = between
  }
  return Math.max(0, top + side * outside)
}

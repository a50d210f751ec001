import { logGamma } from './gamma.ts'
import { gaussLegendre, integrate } from './quadrature.ts'

const RULE = gaussLegendre(40)
const PANELS = 2
/** Natural logarithm of the share below which a tail of the integrand is left out. */
const NEGLIGIBLE = -42

/**
 * The mean of `g(s)` over s = √(χ²/df), the ratio of an estimated to a true standard deviation.
 *
 * `g` must be positive and log-concave, as probabilities of normal events are. The integrand then has one hump:
 * its top is found first, and Gauss–Legendre is laid over the hump alone, so that a result of 1e-200 keeps as many
 * digits as one of 0.5.
 */
export function chiMixture(g: (s: number) => number, df: number): number {
  const logNorm = Math.LN2 + (df / 2) * Math.log(df / 2) - logGamma(df / 2)
  const log = (s: number): number =>
    logNorm + (df === 1 ? 0 : (df - 1) * Math.log(s)) - (df * s * s) / 2 + Math.log(g(s))
  const top = highest(log, df)
  const topLog = log(top)
  if (topLog === -Infinity) return 0
  const f = (s: number): number => Math.exp(log(s) - topLog)
  const low = edge(s => log(s) - topLog, top, -1, df)
  const high = edge(s => log(s) - topLog, top, 1, df)
  let sum = 0
  for (const [from, to] of [
    [low, top],
    [top, high],
  ] as const) {
    for (let i = 0; i < PANELS; i++) {
      sum += integrate(f, from + ((to - from) * i) / PANELS, from + ((to - from) * (i + 1)) / PANELS, RULE)
    }
  }
  return sum * Math.exp(topLog)
}

/** Where the log-concave `log` is greatest, by golden section; exactness does not matter. */
function highest(log: (s: number) => number, df: number): number {
  const width = 1 / Math.sqrt(2 * df)
  let low = 1e-300
  let high = 1 + 2 * width
  while (log(high * 1.5) > log(high) && high < 1e6) high *= 1.5
  high *= 1.5
  // Geometric steps first: the top may lie at s = 1 or at 1e-9.
  let middle = high
  while (middle > 1e-150 && log(middle / 2) >= log(middle)) middle /= 2
  low = middle / 2
  high = Math.min(high, middle * 2)
  for (let i = 0; i < 30; i++) {
    const a = low + 0.382 * (high - low)
    const b = low + 0.618 * (high - low)
    if (log(a) < log(b)) low = a
    else high = b
  }
  return (low + high) / 2
}

/** How far from the top, on one side, the integrand still counts; 0 bounds it below. */
function edge(fall: (s: number) => number, top: number, side: -1 | 1, df: number): number {
  let step = Math.min(top, 1 / Math.sqrt(df)) / 64
  while (top + side * step > 0 && fall(top + side * step) > NEGLIGIBLE) step *= 1.3
  return Math.max(0, top + side * step)
}

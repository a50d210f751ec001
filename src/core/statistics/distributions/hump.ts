import { gaussLegendre } from './quadrature.ts'

const RULE = gaussLegendre(44)
/** Natural logarithm of the share of its top below which the integrand is left out. */
const NEGLIGIBLE = -40

/** Points and weights over a positive, one-humped integrand: its integral is exp(logScale) · Σ weight. */
export interface Hump {
  readonly x: Float64Array
  readonly weight: Float64Array
  readonly logScale: number
}

/**
 * Gauss–Legendre points laid over the hump of exp(log(x)), x > 0, for a concave `log`; `null` where it vanishes
 * everywhere. The top is found first, then the ends where the integrand no longer counts, so that an integral of 1e-30
 * keeps as many digits as one of 0.5. `start` is a first guess of the top.
 */
export function layHump(log: (x: number) => number, start: number): Hump | null {
  const top = nearTop(log, start)
  const logScale = log(top)
  if (!(logScale > -745)) return null
  const low = edge(log, top, logScale + NEGLIGIBLE, -1)
  const high = edge(log, top, logScale + NEGLIGIBLE, 1)
  const knee = top + 0.15 * (high - top)
  const x: number[] = []
  const weight: number[] = []
  const lay = (from: number, to: number): void => {
    RULE.nodes.forEach((node, i) => {
      // Down to 0, x = to·u³ smooths the corner that a broken power of x has there.
      const u = (1 + node) / 2
      x.push(from > 0 ? from + (to - from) * u : to * u ** 3)
      weight.push((RULE.weights[i]! / 2) * (from > 0 ? to - from : 3 * to * u * u))
    })
  }
  lay(low, top)
  lay(top, knee)
  lay(knee, high)
  return {
    x: Float64Array.from(x),
    weight: Float64Array.from(weight, (w, i) => w * Math.exp(log(x[i]!) - logScale)),
    logScale,
  }
}

/** A point within half a unit of the top: bracketed by doubling, then golden section. */
function nearTop(log: (x: number) => number, start: number): number {
  let middle = start
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
function edge(log: (x: number) => number, top: number, floor: number, side: -1 | 1): number {
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

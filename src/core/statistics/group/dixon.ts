import { normalCdf, normalPdf } from '../distributions/normal.ts'
import { gaussLegendre } from '../distributions/quadrature.ts'
import { findRoot } from '../distributions/root.ts'
import type { Suspect } from './suspect.ts'

const LEAST_FOR_DIXON = 3
const MOST_FOR_DIXON = 30

/** Which of Dixon's ratios suits n: `near` values at the suspect end and `far` at the other are left out of the gap. */
export interface DixonRatio {
  readonly name: 'r10' | 'r11' | 'r21' | 'r22'
  readonly near: 1 | 2
  readonly far: 0 | 1 | 2
}

/** Dixon's choice (1953, Biometrics 9:74): r10 to 7 values, r11 to 10, r21 to 13, r22 beyond. */
export function dixonRatioFor(n: number): DixonRatio {
  if (n <= 7) return { name: 'r10', near: 1, far: 0 }
  if (n <= 10) return { name: 'r11', near: 1, far: 1 }
  if (n <= 13) return { name: 'r21', near: 2, far: 1 }
  return { name: 'r22', near: 2, far: 2 }
}

const STEP = 0.2
const LOWEST = -8
const REACH = 16
const WIDTHS = gaussLegendre(48)

/**
 * P(ratio > r) for the largest of n normal values. With u the value that the gap is measured against and v the largest:
 * n(n−1) C(n−2, far) ∬ φ(u) φ(v) Φ(u)^far P(the rest leave the gap) du dv, the rest (n − 2 − far values) lying between u and
 * v − r(v − u), of which `near` = 2 lets one lie above. Derived from the joint density of ordered values (David and Nagaraja
 * 2003, Order Statistics, section 2.2); trapezoidal rule in u, Gauss–Legendre in v − u.
 */
export function dixonUpperTail(r: number, n: number, { near, far }: DixonRatio = dixonRatioFor(n)): number {
  const rest = n - 2 - far
  const ways = n * (n - 1) * (far === 0 ? 1 : far === 1 ? n - 2 : ((n - 2) * (n - 3)) / 2)
  let sum = 0
  for (let u = LOWEST; u <= -LOWEST; u += STEP) {
    const below = normalCdf(u)
    const outer = STEP * normalPdf(u) * below ** far
    for (let i = 0; i < WIDTHS.nodes.length; i++) {
      const width = (REACH / 2) * (1 + WIDTHS.nodes[i]!)
      const weight = (REACH / 2) * WIDTHS.weights[i]! * normalPdf(u + width)
      if (weight < 1e-18) continue
      const edge = normalCdf(u + width * (1 - r))
      const inside = edge - below
      const clear =
        near === 1
          ? inside ** rest
          : inside ** rest + rest * inside ** (rest - 1) * (normalCdf(u + width) - edge)
      sum += outer * weight * clear
    }
  }
  return ways * sum
}

const criticals = new Map<string, number>()

/**
 * The ratio that either end of n normal values exceeds with chance α: each end takes α/2. Exact where both ends cannot
 * exceed it at once (ratios from 0.5), else on the safe side. n from 3 to 30.
 */
export function dixonCritical(n: number, alpha = 0.05): number {
  const key = `${n} ${alpha}`
  const known = criticals.get(key)
  if (known !== undefined) return known
  const ratio = dixonRatioFor(n)
  const critical = findRoot(r => Math.log((2 * dixonUpperTail(r, n, ratio)) / alpha), 1e-6, 1 - 1e-9)
  criticals.set(key, critical)
  return critical
}

/** The greater of the two ends' ratios, and the value it belongs to; `null` where the ratio has no value. */
export function dixonStatistic(values: ArrayLike<number>): { index: number; statistic: number } | null {
  const n = values.length
  if (n < LEAST_FOR_DIXON || n > MOST_FOR_DIXON) return null
  const { near, far } = dixonRatioFor(n)
  const order = Array.from(values, (_, i) => i).sort((a, b) => values[a]! - values[b]!)
  const at = (place: number): number => values[order[place]!]!
  const high = (at(n - 1) - at(n - 1 - near)) / (at(n - 1) - at(far))
  const low = (at(near) - at(0)) / (at(n - 1 - far) - at(0))
  if (!Number.isFinite(high) && !Number.isFinite(low)) return null
  // Two equal values of three: on a display with steps that is no wonder, yet the ratio would be 1.
  if (n === 3 && Math.max(high, low) === 1) return null
  return high >= low || !Number.isFinite(low)
    ? { index: order[n - 1]!, statistic: high }
    : { index: order[0]!, statistic: low }
}

/** The value at an end if Dixon's two-sided test suspects it. */
export function dixon(values: ArrayLike<number>, alpha = 0.05): Suspect | null {
  const end = dixonStatistic(values)
  if (end === null) return null
  const critical = dixonCritical(values.length, alpha)
  if (end.statistic <= critical) return null
  return { ...end, value: values[end.index]!, test: 'Dixon', critical }
}

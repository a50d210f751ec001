import { leastSquares } from '../calibration/leastSquares.ts'
import { fitPolynomial } from '../calibration/polynomial.ts'
import { median } from '../signal/order.ts'

/** How the zero moved in a stretch without load. */
export interface ZeroCourse {
  /** Change a minute: over the whole where it is even, at the start where it dies away. */
  readonly perMinuteN: number
  readonly standardPerMinuteN: number
  /** Time constant where the change dies away; `null` where it goes on evenly, as far as seen. */
  readonly tauS: number | null
  /** Change a minute at the end. */
  readonly endPerMinuteN: number
  /** What goes on evenly beside a change that dies away; 0 where it cannot be told. */
  readonly besidePerMinuteN: number
  /** Slope of the straight line, whatever the course. */
  readonly evenPerMinuteN: number
}

/** Mean of what lies near the median: finer than a coarse step, and without what a knock does. */
export function steadyMean(values: Float64Array): number {
  const middle = median(values)!
  const spread = median(values.map(v => Math.abs(v - middle)))!
  const kept = values.filter(v => Math.abs(v - middle) <= 5 * spread + 1e-12)
  return kept.reduce((sum, v) => sum + v, 0) / kept.length
}

const LEAST_S = 8
const LEAST_BLOCKS = 8
const MOST_BLOCKS = 60

/**
 * The course of the zero, from the medians of up to sixty blocks: a straight line, or a + b·exp(−t/τ) where
 * that leaves clearly less over and more than half of the change died away within the record. `null` of less
 * than 8 s.
 */
export function zeroCourse(timeS: Float64Array, forceN: Float64Array, leastF = CERTAIN_F): ZeroCourse | null {
  const n = timeS.length
  if (n < 5 * LEAST_BLOCKS || timeS[n - 1]! - timeS[0]! < LEAST_S) return null
  const count = Math.min(MOST_BLOCKS, Math.floor(n / 5))
  const t: number[] = []
  const y: number[] = []
  for (let k = 0; k < count; k++) {
    const from = Math.floor((k * n) / count)
    const to = Math.floor(((k + 1) * n) / count)
    t.push((timeS[from]! + timeS[to - 1]!) / 2 - timeS[0]!)
    y.push(steadyMean(forceN.subarray(from, to)))
  }
  const line = fitPolynomial(t, y, { degree: 1 })
  if (line === null) return null
  const slope = line.coefficients[1]!
  const lineLeft = leftOver(t, y, at => line.coefficients[0]! + slope * at)
  const even: ZeroCourse = {
    perMinuteN: 60 * slope,
    standardPerMinuteN: 60 * line.standardErrors[1]!,
    tauS: null,
    endPerMinuteN: 60 * slope,
    besidePerMinuteN: 0,
    evenPerMinuteN: 60 * slope,
  }
  const T = t.at(-1)!
  const dying = bestDecay(t, y, T / 20, 3 * T, false)
  if (dying === null || !(gainF(lineLeft, dying.left, count - 3) > leastF) || dying.tauS > T) return even
  const both = bestDecay(t, y, T / 20, T / 3, true)
  const found = both !== null && gainF(dying.left, both.left, count - 4) > leastF ? both : dying
  const startN = (-60 * found.b) / found.tauS
  return {
    perMinuteN: startN,
    standardPerMinuteN: even.standardPerMinuteN,
    tauS: found.tauS,
    endPerMinuteN: startN * Math.exp(-T / found.tauS),
    besidePerMinuteN: 60 * found.c,
    evenPerMinuteN: 60 * slope,
  }
}

/** F of one more term with about fifty degrees of freedom: 30 lies far beyond one in ten thousand. */
const CERTAIN_F = 30

const gainF = (before: number, after: number, df: number): number =>
  after > 0 ? ((before - after) / after) * df : Number.POSITIVE_INFINITY

const leftOver = (t: readonly number[], y: readonly number[], of: (t: number) => number): number =>
  t.reduce((sum, at, i) => sum + (y[i]! - of(at)) ** 2, 0)

interface Decay {
  readonly tauS: number
  readonly b: number
  readonly c: number
  readonly left: number
}

/**
 * Least squares of a + b·exp(−t/τ), and c·t where asked, over a row of τ and once more about the best of
 * them.
 */
function bestDecay(
  t: readonly number[],
  y: readonly number[],
  fromS: number,
  toS: number,
  evenBeside: boolean,
): Decay | null {
  const over = (from: number, to: number): Decay | null => {
    let best: Decay | null = null
    for (let k = 0; k <= TAU_STEPS; k++) {
      const found = decayOf(t, y, from * (to / from) ** (k / TAU_STEPS), evenBeside)
      if (found !== null && (best === null || found.left < best.left)) best = found
    }
    return best
  }
  const rough = over(fromS, toS)
  if (rough === null) return null
  const apart = (toS / fromS) ** (1 / TAU_STEPS)
  return over(rough.tauS / apart, Math.min(toS, rough.tauS * apart)) ?? rough
}

const TAU_STEPS = 24

function decayOf(
  t: readonly number[],
  y: readonly number[],
  tauS: number,
  evenBeside: boolean,
): Decay | null {
  const shape = Float64Array.from(t, at => Math.exp(-at / tauS))
  const ones = Float64Array.from(t, () => 1)
  const fit = leastSquares(evenBeside ? [ones, shape, Float64Array.from(t)] : [ones, shape], y)
  if (fit === null) return null
  const [a = 0, b = 0, c = 0] = fit.coefficients
  const left = y.reduce((sum, v, i) => sum + (v - a - b * shape[i]! - c * t[i]!) ** 2, 0)
  return { tauS, b, c, left }
}

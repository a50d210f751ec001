import { AT_ONCE } from './scan.ts'

/** A straight line through samples, by least squares. */
export interface Line {
  /** Mean time, in s, and the force there. */
  readonly atS: number
  readonly levelN: number
  readonly slopeNPerS: number
  readonly n: number
  /** Sum of squared time distances from `atS`, in s²: the slope's variance is noise² / this. */
  readonly spreadS2: number
  /** Sum of squared residuals, in N². */
  readonly residualN2: number
}

/** Least-squares line through samples `from` to `to` (exclusive); flat where there is one sample. */
export function fitLine(timeS: Float64Array, forceN: Float64Array, from: number, to: number): Line {
  const n = to - from
  const fromS = timeS[from]!
  let t = 0
  let f = 0
  for (let a = from; a < to; a += AT_ONCE) {
    const b = Math.min(to, a + AT_ONCE)
    t = sumAbove(timeS, a, b, fromS, t)
    f = sumAbove(forceN, a, b, 0, f)
  }
  const atS = fromS + t / n
  const levelN = f / n
  const sums = { tt: 0, tf: 0, ff: 0 }
  for (let a = from; a < to; a += AT_ONCE)
    addSquares(timeS, forceN, a, Math.min(to, a + AT_ONCE), atS, levelN, sums)
  const { tt, tf, ff } = sums
  const slope = tt > 0 ? tf / tt : 0
  return {
    atS,
    levelN,
    slopeNPerS: slope,
    n,
    spreadS2: tt,
    residualN2: Math.max(0, ff - slope * tf),
  }
}

/** `sum` and what the values of [from, to) lie above `base`, added up in order. */
function sumAbove(values: Float64Array, from: number, to: number, base: number, sum: number): number {
  let all = sum
  for (let i = from; i < to; i++) all += values[i]! - base
  return all
}

interface Squares {
  tt: number
  tf: number
  ff: number
}

function addSquares(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  atS: number,
  levelN: number,
  sums: Squares,
): void {
  let { tt, tf, ff } = sums
  for (let i = from; i < to; i++) {
    const dt = timeS[i]! - atS
    const df = forceN[i]! - levelN
    tt += dt * dt
    tf += dt * df
    ff += df * df
  }
  sums.tt = tt
  sums.tf = tf
  sums.ff = ff
}

export const lineAt = (line: Line, tS: number): number => line.levelN + line.slopeNPerS * (tS - line.atS)

/** Standard uncertainty of the line's value at a time, for readings of standard deviation `noiseN`. */
export const lineStandardN = (line: Line, tS: number, noiseN: number): number =>
  noiseN * Math.sqrt(1 / line.n + (line.spreadS2 > 0 ? (tS - line.atS) ** 2 / line.spreadS2 : 0))

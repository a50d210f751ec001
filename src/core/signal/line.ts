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
  const sums = { t: 0, f: 0, tt: 0, tf: 0, ff: 0 }
  const fromS = timeS[from]!
  for (let a = from; a < to; a += AT_ONCE) addUp(timeS, forceN, a, Math.min(to, a + AT_ONCE), fromS, sums)
  const atS = fromS + sums.t / n
  const levelN = sums.f / n
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

interface Sums {
  t: number
  f: number
  tt: number
  tf: number
  ff: number
}

function addUp(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  fromS: number,
  sums: Sums,
): void {
  let { t, f } = sums
  for (let i = from; i < to; i++) {
    t += timeS[i]! - fromS
    f += forceN[i]!
  }
  sums.t = t
  sums.f = f
}

function addSquares(
  timeS: Float64Array,
  forceN: Float64Array,
  from: number,
  to: number,
  atS: number,
  levelN: number,
  sums: Sums,
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

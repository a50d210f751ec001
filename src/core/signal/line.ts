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
  let t = 0
  let f = 0
  for (let i = from; i < to; i++) {
    t += timeS[i]! - timeS[from]!
    f += forceN[i]!
  }
  t = timeS[from]! + t / n
  f /= n
  let tt = 0
  let tf = 0
  let ff = 0
  for (let i = from; i < to; i++) {
    const dt = timeS[i]! - t
    const df = forceN[i]! - f
    tt += dt * dt
    tf += dt * df
    ff += df * df
  }
  const slope = tt > 0 ? tf / tt : 0
  return {
    atS: t,
    levelN: f,
    slopeNPerS: slope,
    n,
    spreadS2: tt,
    residualN2: Math.max(0, ff - slope * tf),
  }
}

export const lineAt = (line: Line, tS: number): number => line.levelN + line.slopeNPerS * (tS - line.atS)

/** Standard uncertainty of the line's value at a time, for readings of standard deviation `noiseN`. */
export const lineStandardN = (line: Line, tS: number, noiseN: number): number =>
  noiseN * Math.sqrt(1 / line.n + (line.spreadS2 > 0 ? (tS - line.atS) ** 2 / line.spreadS2 : 0))

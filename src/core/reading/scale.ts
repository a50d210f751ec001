/** What is known of the force scale: from a calibration, as plain points. */
export interface Scale {
  /** Where it comes from, for the budget: `calibration of 3 May 2026`. */
  readonly source: string
  /** What shares its error: all that this rig reads, or one day's work. */
  readonly shared: 'rig' | 'day'
  /** Standard uncertainty of the scale at forces in rising order. */
  readonly points: readonly { readonly atN: number; readonly standardN: number }[]
}

/** Standard uncertainty of the scale at a force: straight between the points, the ends' own outside them. */
export function scaleStandardN({ points }: Scale, forceN: number): number {
  const first = points[0]
  if (!first) return 0
  if (forceN <= first.atN) return first.standardN
  for (let k = 1; k < points.length; k++) {
    const a = points[k - 1]!
    const b = points[k]!
    if (forceN <= b.atN) {
      return b.atN > a.atN
        ? a.standardN + ((b.standardN - a.standardN) * (forceN - a.atN)) / (b.atN - a.atN)
        : b.standardN
    }
  }
  return points.at(-1)!.standardN
}

/** What is known of the force scale: from a calibration, as plain points. */
export interface Scale {
  /** Where it comes from, for the budget: `calibration of 3 May 2026`. */
  readonly source: string
  /** Which calibration of which rig: two made on one day are two. */
  readonly of?: string
  /** Named references that the loads of the calibration came from, each with its share of the standard uncertainty. */
  readonly references?: readonly { readonly of: string; readonly share: number }[]
  /** What shares its error: all that this rig reads, or one day's work. */
  readonly shared: 'rig' | 'day'
  /** Standard uncertainty of the scale at forces in rising order. */
  readonly points: readonly { readonly atN: number; readonly standardN: number }[]
}

/**
 * The scale's doubt at a force as lines of a budget: that of each named reference by itself, since another calibration with
 * the same masses shares it, and the rest.
 */
export function scaleLines(scale: Scale, forceN: number) {
  const { source, shared, of, references = [] } = scale
  const whole = scaleStandardN(scale, forceN)
  const rest = Math.sqrt(Math.max(0, 1 - references.reduce((sum, { share }) => sum + share ** 2, 0)))
  return [
    { source, of, share: rest },
    ...references.map(reference => ({ source: reference.of, ...reference })),
  ].map(line => ({
    source: line.source,
    standardN: whole * line.share,
    correctionN: 0,
    shared,
    ...(line.of === undefined ? {} : { of: line.of }),
  }))
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

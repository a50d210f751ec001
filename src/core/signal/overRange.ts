export interface OverRange {
  readonly limitN: number
  /** Samples at the limit. */
  readonly count: number
  /** First and last of them. */
  readonly from: number
  readonly to: number
}

export interface OverRangeOptions {
  readonly noiseN: number
  readonly quantumN: number
  readonly periodS: number
  /** Reading with no load, in N, as far as known. */
  readonly zeroN: number
}

/**
 * A top that is cut flat: the greatest reading, repeated without the noise and the slow relaxation that a held
 * specimen shows.
 *
 * Where noise moves the display, a run as long as this without any movement cannot be chance. Where the display is
 * too coarse to show the noise, the run must last 0.8 s at a level of 150 display steps or more: a specimen that is
 * held relaxes by some tenths of a per cent in that time, which would show.
 */
export function findOverRange(forceN: Float64Array, options: OverRangeOptions): OverRange | null {
  const { noiseN, quantumN, periodS, zeroN } = options
  if (forceN.length < 5) return null
  let limitN = Number.NEGATIVE_INFINITY
  for (let i = 0; i < forceN.length; i++) if (forceN[i]! > limitN) limitN = forceN[i]!
  if (limitN - zeroN < Math.max(20 * noiseN, 20 * quantumN) || limitN === zeroN) return null
  const edge = limitN - 1e-9 * Math.abs(limitN)
  let count = 0
  let from = -1
  let to = -1
  let run = 0
  let longest = 0
  for (let i = 0; i < forceN.length; i++) {
    if (forceN[i]! >= edge) {
      if (from < 0) from = i
      to = i
      count++
      run++
      if (run > longest) longest = run
    } else run = 0
  }
  const stillChance = chanceOfNoChange(noiseN, quantumN)
  const notByChance = longest >= 4 && longest * Math.log(stillChance) < -9
  const noRelaxation =
    longest >= 8 && longest * periodS >= 0.8 && (quantumN === 0 || limitN - zeroN >= 150 * quantumN)
  return notByChance || noRelaxation ? { limitN, count, from, to } : null
}

/** Greatest chance that the next reading of a held load shows the same figure (a load in the middle of a display step). */
function chanceOfNoChange(noiseN: number, quantumN: number): number {
  if (noiseN <= 0) return 1
  if (quantumN <= 0) return 0.01
  // The noise as measured holds the rounding as well, which does not move the display.
  const own = Math.sqrt(Math.max(noiseN * noiseN - (quantumN * quantumN) / 12, 0))
  if (own <= 0.05 * quantumN) return 1
  return erfApprox(quantumN / (2 * Math.SQRT2 * own))
}

/** Abramowitz and Stegun 7.1.26, error below 1.5e-7. */
function erfApprox(x: number): number {
  const t = 1 / (1 + 0.3275911 * x)
  const poly =
    t * (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429))))
  return 1 - poly * Math.exp(-x * x)
}

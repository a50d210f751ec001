/**
 * What stands between the grips, as springs that relax, let go or pull out. Lengths in mm, forces in newton.
 *
 * Each part carries F = S · (e − Σ shareⱼ·vⱼ): e is its stretch past the take-up, S its stiffness while whole, and
 * vⱼ follows e with the time constant τⱼ (Maxwell branches in parallel with a spring, the standard linear solid).
 */
export interface Relaxation {
  /** Share of the stiffness that relaxes away under a lasting stretch. */
  readonly share: number
  readonly tauS: number
}

export interface Part {
  forceN(stretchMm: number): number
  slopeNPerMm(stretchMm: number): number
  /** Lets `dtS` pass at this stretch; gives how many elements let go in it. */
  settle(stretchMm: number, dtS: number): number
  /** Nothing more to come from it. */
  gone(): boolean
  /** Whether it has begun to let go and is not through yet. */
  tearing(): boolean
  readonly counted: boolean
}

/** Take-up: no force, then a parabola, then straight with the full stiffness. */
export const takenUp = (mm: number, toeMm: number): number =>
  mm <= 0 ? 0 : mm < toeMm ? (mm * mm) / (2 * toeMm) : mm - toeMm / 2

export const takenUpSlope = (mm: number, toeMm: number): number => (mm <= 0 ? 0 : mm < toeMm ? mm / toeMm : 1)

export function relaxing(branches: readonly Relaxation[]) {
  const crept = new Float64Array(branches.length)
  return {
    lossMm(): number {
      let sum = 0
      for (let j = 0; j < crept.length; j++) sum += branches[j]!.share * crept[j]!
      return sum
    },
    settle(stretchMm: number, dtS: number): void {
      for (let j = 0; j < crept.length; j++)
        crept[j]! += (stretchMm - crept[j]!) * (1 - Math.exp(-dtS / branches[j]!.tauS))
    },
  }
}

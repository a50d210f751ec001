import { type Part, type Relaxation, relaxing, takenUp } from './spring.ts'

/**
 * A part that yields, hardens to its greatest force, necks and tears: force over stretch runs straight up to the yield,
 * level along a plateau, on a parabola up to the greatest force, on a parabola down, and then the part tears in a time
 * of its own. Let down before, it comes back along its first slope (plastic stretch stays). A brittle part is one whose
 * yield is its greatest force and that has no plateau and no neck.
 */
export interface DuctileSpec {
  readonly law: 'ductile'
  readonly stiffnessNPerMm: number
  readonly yieldN: number
  /** Stretch over which the force stays at the yield. */
  readonly plateauMm: number
  /** How far the force sinks from the first yield to the plateau, relative. */
  readonly yieldDip: number
  readonly peakN: number
  /** Stretch from the end of the plateau to the greatest force, and from there to the tear. */
  readonly hardenMm: number
  readonly neckMm: number
  /** Force at which it tears over the greatest force. */
  readonly neckShare: number
  /** Time of the tear; 0: at once. The force falls as 1 − (time over `tearS`) to the power of `tearBend`. */
  readonly tearS: number
  readonly tearBend: number
  readonly toeMm: number
  readonly relaxation: readonly Relaxation[]
}

/** Stretch, without the toe, at which it begins to tear. */
export const tearsAtMm = (s: DuctileSpec): number =>
  s.yieldN / s.stiffnessNPerMm + s.plateauMm + s.hardenMm + s.neckMm

/** Force of a steady first stretch without relaxation, at a stretch past the toe. */
function envelopeN(s: DuctileSpec, mm: number): number {
  const yieldMm = s.yieldN / s.stiffnessNPerMm
  if (mm <= yieldMm) return s.stiffnessNPerMm * mm
  const onPlateau = mm - yieldMm
  const lowerN = s.yieldN * (1 - s.yieldDip)
  if (onPlateau < s.plateauMm) return lowerN + (s.yieldN - lowerN) * Math.exp((-8 * onPlateau) / s.plateauMm)
  const fromN = s.plateauMm > 0 ? lowerN : s.yieldN
  const hardened = onPlateau - s.plateauMm
  if (hardened < s.hardenMm) return s.peakN - (s.peakN - fromN) * (1 - hardened / s.hardenMm) ** 2
  const necked = s.neckMm > 0 ? Math.min(1, (hardened - s.hardenMm) / s.neckMm) : 1
  return s.peakN * (1 - (1 - s.neckShare) * necked ** 2)
}

export function makeDuctile(spec: DuctileSpec): Part {
  const relax = relaxing(spec.relaxation)
  const tearMm = tearsAtMm(spec)
  const stiffness = spec.stiffnessNPerMm
  let farthestMm = 0
  let tornForS = -1
  /** Elastic part of the stretch. */
  const elasticMm = (mm: number): number => {
    const e = takenUp(mm, spec.toeMm)
    const far = Math.max(e, farthestMm)
    return Math.max(0, envelopeN(spec, far) / stiffness - (far - e))
  }
  const whole = (): number => {
    if (tornForS < 0) return 1
    return spec.tearS > 0 ? Math.max(0, 1 - (tornForS / spec.tearS) ** spec.tearBend) : 0
  }
  const forceN = (mm: number): number => whole() * stiffness * Math.max(0, elasticMm(mm) - relax.lossMm())
  return {
    counted: false,
    forceN,
    slopeNPerMm: mm => (forceN(mm + 1e-4) - forceN(mm - 1e-4)) / 2e-4,
    gone: () => tornForS >= 0 && whole() === 0,
    tearing: () => tornForS >= 0 && whole() > 0,
    settle(mm, dtS) {
      const e = takenUp(mm, spec.toeMm)
      relax.settle(elasticMm(mm), dtS)
      farthestMm = Math.max(farthestMm, e)
      if (tornForS >= 0) {
        tornForS += dtS
        return 0
      }
      if (e < tearMm) return 0
      tornForS = 0
      return 1
    },
  }
}

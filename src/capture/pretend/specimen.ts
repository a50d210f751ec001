import { type DuctileSpec, makeDuctile } from './ductile.ts'
import type { Random } from './random.ts'
import { type Part, type Relaxation, relaxing, takenUp, takenUpSlope } from './spring.ts'

export interface BundleSpec {
  readonly law: 'bundle'
  readonly elements: number
  /** Stiffness of one element. */
  readonly stiffnessNPerMm: number
  readonly strengthN: number
  /** Standard deviation of strength and stiffness over the elements, relative. */
  readonly strengthScatter: number
  readonly stiffnessScatter: number
  /** Stretch over which the part straightens before it carries its full stiffness. */
  readonly toeMm: number
  readonly relaxation: readonly Relaxation[]
  /** Mean time that an overloaded element still holds. */
  readonly holdOutS: number
  /** Stretch before the part begins to carry: how loosely it lies beside the others. */
  readonly slackMm: number
  /** Whether its elements are the ones that the specimen is counted by. */
  readonly counted: boolean
}

/** Gradual pull-out: force over stretch follows P·r·exp((1 − rᵐ)/m), r = e/peakMm, then fades to nothing at `endMm`. */
export interface PullOutSpec {
  readonly law: 'pull-out'
  readonly peakN: number
  readonly peakMm: number
  /** m: the smaller, the longer the tail. */
  readonly tail: number
  readonly endMm: number
  /** Lets go all at once at this stretch; `null`: never. */
  readonly snapMm: number | null
  /** Relative ripple of the envelope along the stretch. */
  readonly roughness: number
  readonly toeMm: number
  readonly relaxation: readonly Relaxation[]
}

export type PartSpec = BundleSpec | PullOutSpec | DuctileSpec

function makeBundle(spec: BundleSpec, random: Random): Part {
  const elements = Array.from({ length: spec.elements }, () => {
    const stiffness = spec.stiffnessNPerMm * Math.max(0.5, random.normal(1, spec.stiffnessScatter))
    const strength = spec.strengthN * Math.max(0.25, random.normal(1, spec.strengthScatter))
    return { stiffness, limitMm: strength / stiffness }
  }).sort((a, b) => a.limitMm - b.limitMm)
  const relax = relaxing(spec.relaxation)
  let stiffness = elements.reduce((sum, e) => sum + e.stiffness, 0)
  let weakest = 0
  let holdsForS = random.wait(spec.holdOutS)
  const carried = (mm: number) => Math.max(0, takenUp(mm - spec.slackMm, spec.toeMm) - relax.lossMm())
  return {
    counted: spec.counted,
    forceN: mm => stiffness * carried(mm),
    slopeNPerMm: mm => (carried(mm) > 0 ? stiffness * takenUpSlope(mm - spec.slackMm, spec.toeMm) : 0),
    gone: () => weakest >= elements.length,
    tearing: () => false,
    settle(mm, dtS) {
      relax.settle(takenUp(mm - spec.slackMm, spec.toeMm), dtS)
      const next = elements[weakest]
      if (!next || carried(mm) < next.limitMm) return 0
      holdsForS -= dtS
      if (holdsForS > 0) return 0
      weakest++
      stiffness = weakest === elements.length ? 0 : stiffness - next.stiffness
      holdsForS = random.wait(spec.holdOutS)
      return 1
    },
  }
}

function makePullOut(spec: PullOutSpec, random: Random): Part {
  const waves = Array.from({ length: 6 }, (_, i) => ({
    perMm: (i + random.next()) / spec.peakMm,
    phase: random.between(0, 2 * Math.PI),
  }))
  const relax = relaxing(spec.relaxation)
  let farthestMm = 0
  let snapped = false
  /** Secant stiffness of the envelope at the farthest stretch so far: damage does not heal. */
  const secant = (mm: number): number => {
    if (snapped || mm >= spec.endMm) return 0
    const r = mm / spec.peakMm
    const fade = Math.min(1, (spec.endMm - mm) / (0.35 * spec.endMm))
    let ripple = 0
    for (const w of waves) ripple += Math.sin(2 * Math.PI * w.perMm * mm + w.phase)
    const rough = 1 + (spec.roughness * ripple) / Math.sqrt(3)
    return (spec.peakN / spec.peakMm) * Math.exp((1 - r ** spec.tail) / spec.tail) * fade * rough
  }
  const forceN = (mm: number): number => {
    const e = takenUp(mm, spec.toeMm)
    return secant(Math.max(e, farthestMm)) * Math.max(0, e - relax.lossMm())
  }
  return {
    counted: true,
    forceN,
    slopeNPerMm: mm => (forceN(mm + 1e-4) - forceN(mm - 1e-4)) / 2e-4,
    gone: () => snapped || farthestMm >= spec.endMm,
    tearing: () => false,
    settle(mm, dtS) {
      const e = takenUp(mm, spec.toeMm)
      relax.settle(e, dtS)
      farthestMm = Math.max(farthestMm, e)
      if (snapped || spec.snapMm === null || e < spec.snapMm) return 0
      snapped = true
      return 1
    },
  }
}

export function makePart(spec: PartSpec, random: Random): Part {
  if (spec.law === 'ductile') return makeDuctile(spec)
  return spec.law === 'bundle' ? makeBundle(spec, random) : makePullOut(spec, random)
}

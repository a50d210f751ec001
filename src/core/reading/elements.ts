import type { DropLabel } from './amendments.ts'
import { countElements, type Seen } from './countElements.ts'
import type { Elements } from './document.ts'
import type { Drop } from './measureDrop.ts'
import { elementPriors } from './priors.ts'
import { tangentLikelihood } from './tangentWitness.ts'

/** What a drop was. */
export interface Explained {
  readonly drop: Drop
  readonly kind: 'partial-break' | 'break' | 'slip'
  readonly elements: Elements | null
  /** Chance that the kind is right, given that something happened. */
  readonly confidence: number
}

export interface ExplainOptions {
  /** Equal elements of the specimen; `null` where nobody said. */
  readonly elements: number | null
  readonly labels: readonly { readonly atS: number; readonly kind: DropLabel }[]
  readonly periodS: number
  /** Load that an unknown zero hides, in N, added to the forces; `null` where the zero is known. */
  readonly hiddenN: number | null
}

/** Steps in 1 + b × total where only the evidence is asked for. */
const COARSE = 1.07
/** More elements than this are not counted one by one. */
export const MOST_ELEMENTS = 200

/**
 * Decides all drops of a record together.
 *
 * n equal elements in parallel, on a rig that gives: when m of them break at a fixed travel, the force falls by the
 * share m / (n (1 + b (n − m))), b the stiffness of one element over that of the rig, and the tangent by the same
 * share (test/reference/fibre_bundle.json, after Daniels 1945). A slip keeps the tangent and falls by any share.
 * b is one number for the record and n never falls below 0: the sum over all ways through the record (forward and
 * backward, over a grid of b, for a record that slips and for one that does not) gives each drop's chances.
 */
export function explainDrops(drops: readonly Drop[], options: ExplainOptions): Explained[] {
  const kept = labelled(drops, options)
  const end = mainEnd(kept)
  const main = kept.slice(0, end < 0 ? kept.length : end + 1)
  const total = options.elements
  const counted =
    total !== null && total >= 1 && total <= MOST_ELEMENTS
      ? countElements(main, { total, broken: end >= 0, ...options, hiddenN: options.hiddenN ?? 0 }).chances
      : null
  // Where the zero is not known, no share is: only a clear slip is called one.
  const sureSlip = options.hiddenN === null ? 0.5 : 0.95
  const told = kept.map(({ drop, label }, k) => {
    const chances = k < main.length ? counted?.[k] : undefined
    const counts = chances && !drop.cut ? chances.slip : null
    const slip = slipChance(drop, counts, options.hiddenN === null)
    const kind =
      label ?? (drop.leavesNothing || drop.stops ? 'break' : slip > sureSlip ? 'slip' : 'partial-break')
    const elements = kind === 'slip' || !chances ? null : range(chances.counts)
    const sure = kind === 'break' ? 0.98 : kind === 'slip' ? slip : 1 - slip
    return { drop, kind, elements, confidence: label ? 1 : Math.min(0.99, sure * seenFor(drop)) }
  })
  return total === null ? told : withinTotal(told, total)
}

/** The likeliest counts of single drops may add up to more than there are; the widest ranges then give way. */
function withinTotal(told: readonly Explained[], total: number): Explained[] {
  const out = [...told]
  for (;;) {
    const counts = out.map(t => t.elements?.estimate ?? 0)
    if (counts.reduce((sum, n) => sum + n, 0) <= total) return out
    let widest = -1
    out.forEach(({ elements }, k) => {
      if (!elements) return
      const slack = ({ estimate, low, high }: Elements): number =>
        (estimate > 1 ? 1000 : 0) + (estimate > low ? 100 : 0) + high - low + estimate / 1000
      if (widest < 0 || slack(elements) > slack(out[widest]!.elements!)) widest = k
    })
    const { elements, ...rest } = out[widest]!
    const { estimate, low, high } = elements!
    out[widest] = {
      ...rest,
      elements: estimate > 1 ? { estimate: estimate - 1, low: Math.min(low, estimate - 1), high } : null,
    }
  }
}

/**
 * Evidence of the drops for each of some loads (N) that the zero may hide: only the true load makes the shares of the
 * drops those of whole elements. Comparable over loads, up to one constant; `null` where the drops say nothing.
 */
export function hiddenLoadEvidence(
  drops: readonly Drop[],
  options: Omit<ExplainOptions, 'hiddenN'>,
  loadsN: readonly number[],
): number[] | null {
  const { elements } = options
  const kept = labelled(drops, { ...options, hiddenN: null })
  if (elements === null || elements < 2 || elements > 40 || kept.length < 2) return null
  const end = mainEnd(kept)
  const main = kept.slice(0, end < 0 ? kept.length : end + 1)
  return loadsN.map(
    loadN =>
      countElements(main, { ...options, total: elements, broken: end >= 0, hiddenN: loadN }, COARSE).evidence,
  )
}

function labelled(drops: readonly Drop[], options: ExplainOptions): Seen[] {
  return drops.flatMap((drop): Seen[] => {
    const label = labelOf(drop, drops, options)
    return label === 'none' ? [] : [{ drop, label }]
  })
}

/** The drop after which nothing of the counted elements is left. */
const mainEnd = (kept: readonly Seen[]): number =>
  kept.findIndex(({ drop, label }) => drop.leavesNothing && label !== 'slip')

/** A drop just over the least that counts is less sure than one of many times that. */
const seenFor = ({ clearness }: Drop): number => 1 - 0.3 / clearness ** 2

function labelOf(drop: Drop, drops: readonly Drop[], { labels, periodS }: ExplainOptions): DropLabel | null {
  const reach = Math.max(0.3, 4 * periodS)
  for (const { atS, kind } of labels.toReversed()) {
    let nearest: Drop | null = null
    for (const d of drops) if (!nearest || Math.abs(d.atS - atS) < Math.abs(nearest.atS - atS)) nearest = d
    if (nearest === drop && Math.abs(drop.atS - atS) <= reach) return kind
  }
  return null
}

/** Chance of a slip: by the counting where there is one, and by the tangents too where no share is sure. */
function slipChance(drop: Drop, counted: number | null, zeroKnown: boolean): number {
  if (drop.cut) return 0
  if (counted === null) return slipByTangent(drop)
  return zeroKnown ? counted : Math.min(counted, slipByTangent(drop))
}

/** Chance of a slip from the tangents alone. */
function slipByTangent(drop: Drop): number {
  const { share } = drop
  const beforehand = elementPriors.slipping * elementPriors.slipWhereSlipping
  const slip = beforehand * tangentLikelihood(drop, 1)
  const broke = (1 - beforehand) * tangentLikelihood(drop, 1 - share)
  return slip / (slip + broke)
}

/** Most likely count, and the shortest range around it that holds 95 %; `null` where it would say nothing. */
function range(counts: Float64Array): Elements | null {
  if (counts.length === 0) return null
  let estimate = 1
  for (let m = 1; m < counts.length; m++) if (counts[m]! > counts[estimate]!) estimate = m
  let low = estimate
  let high = estimate
  let held = counts[estimate]!
  while (held < 0.95) {
    const below = low > 1 ? counts[low - 1]! : -1
    const above = high < counts.length - 1 ? counts[high + 1]! : -1
    if (below <= 0 && above <= 0) break
    if (below > above) low--
    else high++
    held += Math.max(below, above)
  }
  return held > 0 && high - low <= Math.max(3, 0.5 * counts.length) ? { estimate, low, high } : null
}

import type { DropLabel } from './amendments.ts'
import type { Elements } from './document.ts'
import type { Drop } from './measureDrop.ts'

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

/** Chance that a specimen slips in its grips at all, and then the chance that a drop is one. */
const SLIPPING = 0.2
const SLIP_WHERE_SLIPPING = 0.45
const SLIP_ELSEWHERE = 0.002
/** Equal elements are not quite equal: relative spread of a drop and of a tangent about the model. */
const DROP_SPREAD = 0.025
const TANGENT_SPREAD = 0.07
/** A tangent may be spoilt by a drive that stops or starts beside the drop. */
const TANGENT_SPOILT = 0.25
/** Chance that one more element went together with another. */
const TOGETHER = 0.4
/** Chance that an element goes unseen between two drops: the longer a period, the more a ramp hides. */
const unseenChance = (periodS: number): number => Math.min(0.06, 0.006 + 0.4 * periodS)
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
    const kind = label ?? (drop.leavesNothing ? 'break' : slip > sureSlip ? 'slip' : 'partial-break')
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

interface Seen {
  readonly drop: Drop
  readonly label: Exclude<DropLabel, 'none'> | null
}

interface Chances {
  readonly slip: number
  /** Chance of 0, 1, 2 … elements, given a break. */
  readonly counts: Float64Array
}

/** Likelihood of the tangents before and after when the second is `ratio` times the first. */
function tangentLikelihood({ before, after, readingN }: Drop, ratio: number): number {
  if (before.n < 2 || after.n < 2) return 1
  const seBefore = readingN / Math.sqrt(before.spreadS2)
  const seAfter = readingN / Math.sqrt(after.spreadS2)
  if (!(before.slopeNPerS > 3 * seBefore)) return 1
  const sd = Math.hypot(seAfter, ratio * seBefore, TANGENT_SPREAD * before.slopeNPerS) / before.slopeNPerS
  const off = (after.slopeNPerS / before.slopeNPerS - ratio) / sd
  return (
    TANGENT_SPOILT * 0.5 + ((1 - TANGENT_SPOILT) * Math.exp(-0.5 * off * off)) / (sd * Math.sqrt(2 * Math.PI))
  )
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
  const slip = SLIPPING * SLIP_WHERE_SLIPPING * tangentLikelihood(drop, 1)
  const broke = (1 - SLIPPING * SLIP_WHERE_SLIPPING) * tangentLikelihood(drop, 1 - share)
  return slip / (slip + broke)
}

/** Chances of each drop: forward and backward over the elements left, summed over the rig's softness. */
function countElements(
  drops: readonly Seen[],
  { total, broken, hiddenN, periodS }: Counted,
  fineness = 1.03,
): { chances: Chances[]; evidence: number } {
  let evidence = 0
  const sums = drops.map(() => ({ slip: 0, counts: new Float64Array(total + 1) }))
  const slipLikelihoods = drops.map(({ drop, label }) =>
    label === 'slip' || !(label || drop.leavesNothing || drop.cut)
      ? tangentLikelihood(drop, 1) * slipDensity(drop.share)
      : 0,
  )
  // b × total; steps of 3 % in 1 + b × total are finer than equal elements are equal.
  for (let softness = 0; softness <= 4; softness = fineness * (1 + softness) - 1) {
    const tables = drops.map(seen => breakTable(seen, total, softness / total, hiddenN))
    const prior = 1 / (1 + 4 * softness)
    const unseen = unseenChance(periodS)
    const usual = { total, broken, unseen, slipping: SLIP_ELSEWHERE }
    const slippery = { total, broken, unseen, slipping: SLIP_WHERE_SLIPPING }
    evidence += addWays(sums, tables, slipLikelihoods, usual, prior * (1 - SLIPPING))
    evidence += addWays(sums, tables, slipLikelihoods, slippery, prior * SLIPPING)
  }
  const chances = sums.map(({ slip, counts }) => {
    const broke = counts.reduce((sum, c) => sum + c, 0)
    const all = slip + broke
    if (!(all > 0)) return { slip: 0.5, counts: new Float64Array(0) }
    return { slip: slip / all, counts: counts.map(c => (broke > 0 ? c / broke : 0)) }
  })
  return { chances, evidence }
}

/** Density of a slip's relative drop: anything up to a third, hardly more than a half. */
const slipDensity = (share: number): number => 3 * Math.exp(-((Math.max(0, share - 0.33) / 0.1) ** 2))

/** Likelihood that m of n elements went, at n × (total + 1) + m. */
function breakTable({ drop, label }: Seen, total: number, b: number, hiddenN: number): Float64Array {
  const width = total + 1
  const table = new Float64Array(width * width)
  if (label === 'slip') return table
  let together = 1 - TOGETHER
  if (drop.leavesNothing) {
    together /= Math.hypot(drop.shareStandard, DROP_SPREAD) * Math.sqrt(2 * Math.PI)
    for (let n = 1; n <= total; n++, together *= TOGETHER) table[n * width + n] = together
    return table
  }
  const shown = drop.beforeN > 0 ? drop.beforeN / (drop.beforeN + hiddenN) : 1
  const share = Math.max(1e-6, drop.share * shown)
  const spread = Math.hypot(drop.shareStandard * shown, DROP_SPREAD * share)
  const tangent = tangentLikelihood(drop, 1 - share) / (spread * Math.sqrt(2 * Math.PI))
  for (let m = 1; m < total; m++, together *= TOGETHER) {
    for (let n = m + 1; n <= total; n++) {
      const off = (share - m / (n * (1 + b * (n - m)))) / spread
      if (off < 6 && off > -6) table[n * width + m] = together * tangent * Math.exp(-0.5 * off * off)
    }
  }
  return table
}

interface Counted {
  readonly total: number
  /** The last drop leaves nothing. */
  readonly broken: boolean
  readonly hiddenN: number
  readonly periodS: number
}

interface Ways {
  readonly total: number
  /** The last drop leaves nothing. */
  readonly broken: boolean
  /** Chance that an element went unseen. */
  readonly unseen: number
  /** Chance that a drop is a slip. */
  readonly slipping: number
}

/** Adds, for each drop, the joint weight of every way through the record in which it is a slip, or a break of m; gives their sum. */
function addWays(
  sums: { slip: number; counts: Float64Array }[],
  tables: readonly Float64Array[],
  slipLikelihoods: readonly number[],
  { total, broken, unseen, slipping }: Ways,
  weight: number,
): number {
  const width = total + 1
  const before: Float64Array[] = []
  let state = new Float64Array(width)
  state[total] = 1
  tables.forEach((table, k) => {
    state = withUnseen(state, unseen)
    before.push(state)
    const next = new Float64Array(width)
    const slip = slipping * slipLikelihoods[k]!
    for (let n = 1; n <= total; n++) {
      const here = state[n]!
      if (here < 1e-40) continue
      next[n]! += here * slip
      for (let m = 1; m <= n; m++) next[n - m]! += here * (1 - slipping) * table[n * width + m]!
    }
    state = next
  })
  let after = new Float64Array(width).fill(1)
  if (broken) after.fill(0, 1)
  for (let k = tables.length - 1; k >= 0; k--) {
    const table = tables[k]!
    const from = before[k]!
    const sum = sums[k]!
    const earlier = new Float64Array(width)
    const slip = slipping * slipLikelihoods[k]!
    for (let n = 1; n <= total; n++) {
      const here = weight * from[n]!
      const slips = slip * after[n]!
      sum.slip += here * slips
      let all = slips
      for (let m = 1; m <= n; m++) {
        const way = (1 - slipping) * table[n * width + m]! * after[n - m]!
        if (way === 0) continue
        sum.counts[m]! += here * way
        all += way
      }
      earlier[n] = all
    }
    after = withUnseenBack(earlier, unseen)
  }
  return weight * after[total]!
}

/** Some elements may have gone unseen since the last drop. */
function withUnseen(state: Float64Array, chance: number): Float64Array<ArrayBuffer> {
  const out = Float64Array.from(state)
  for (let n = state.length - 1; n > 1; n--) {
    let share = chance
    for (let u = 1; u <= 3 && n - u >= 1; u++, share *= chance) out[n - u]! += state[n]! * share
  }
  return out
}

function withUnseenBack(after: Float64Array, chance: number): Float64Array<ArrayBuffer> {
  const out = Float64Array.from(after)
  for (let n = after.length - 1; n > 1; n--) {
    let share = chance
    for (let u = 1; u <= 3 && n - u >= 1; u++, share *= chance) out[n]! += after[n - u]! * share
  }
  return out
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

import type { DropLabel } from './amendments.ts'
import { addWays } from './elementWays.ts'
import type { Drop } from './measureDrop.ts'
import { elementPriors } from './priors.ts'
import { tangentLikelihood } from './tangentWitness.ts'

/** Chance that an element goes unseen between two drops. */
const unseenChance = (periodS: number): number => {
  const { unseenLeast, unseenRate, unseenMost } = elementPriors
  return Math.min(unseenMost, unseenLeast + unseenRate * periodS)
}

/** A drop, with what a person called it. */
export interface Seen {
  readonly drop: Drop
  readonly label: Exclude<DropLabel, 'none'> | null
}

interface Chances {
  readonly slip: number
  /** Chance of 0, 1, 2 … elements, given a break. */
  readonly counts: Float64Array
}

/** Chances of each drop: forward and backward over the elements left, summed over the rig's softness. */
export function countElements(
  drops: readonly Seen[],
  { total, broken, hiddenN, periodS }: Counted,
  fineness = 1.03,
): { chances: Chances[]; evidence: number } {
  const { slipping, slipWhereSlipping, slipElsewhere } = elementPriors
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
    const usual = { total, broken, unseen, slipping: slipElsewhere }
    const slippery = { total, broken, unseen, slipping: slipWhereSlipping }
    evidence += addWays(sums, tables, slipLikelihoods, usual, prior * (1 - slipping))
    evidence += addWays(sums, tables, slipLikelihoods, slippery, prior * slipping)
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
  const { together: oneMore, dropSpread } = elementPriors
  let together = 1 - oneMore
  if (drop.leavesNothing) {
    together /= Math.hypot(drop.shareStandard, dropSpread) * Math.sqrt(2 * Math.PI)
    for (let n = 1; n <= total; n++, together *= oneMore) table[n * width + n] = together
    return table
  }
  const shown = drop.beforeN > 0 ? drop.beforeN / (drop.beforeN + hiddenN) : 1
  const share = Math.max(1e-6, drop.share * shown)
  const spread = Math.hypot(drop.shareStandard * shown, dropSpread * share)
  const tangent = tangentLikelihood(drop, 1 - share) / (spread * Math.sqrt(2 * Math.PI))
  for (let m = 1; m < total; m++, together *= oneMore) {
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

import { manyToOneCritical } from '../distributions/manyToOne.ts'
import { maximumModulusCritical } from '../distributions/studentizedMaximumModulus.ts'
import { tQuantile } from '../distributions/t.ts'
import { powerBy, smallest } from './power.ts'

/** What a design brings: how many of each, and what a difference is then known to. */
export interface Designed {
  readonly perGroup: number
  /** Expected half-width of the interval of a difference (of a trend: of the change over its range). */
  readonly halfWidth: number
}

interface Asked {
  readonly sd: number
  readonly alpha: number
  readonly power: number
}

/** Chance that a variant's true `difference` from a control is seen where `others` variants are compared with it alone. */
export function powerAgainstControl(
  difference: number,
  n: number,
  { sd, alpha, others }: { sd: number; alpha: number; others: number },
): number {
  return powerBy(difference, againstControl(n, { sd, alpha, others }))
}

function againstControl(n: number, { sd, alpha, others }: { sd: number; alpha: number; others: number }) {
  const df = 2 * n - 2
  return { standardError: sd * Math.sqrt(2 / n), df, critical: manyToOneCritical(alpha, halves(others), df) }
}

/** Each comparison hangs on the control's own chance by half its variance: as many of each, scattering alike. */
const halves = (others: number): number[] => Array.from({ length: others }, () => Math.SQRT1_2)

/** Smallest number of each with which a difference from the control is seen with the chance asked. */
export function designAgainstControl(
  difference: number,
  { sd, alpha, power, others }: Asked & { readonly others: number },
): Designed | null {
  if (!(difference > 0) || !(sd > 0)) return null
  const perGroup = smallest(n => powerAgainstControl(difference, n, { sd, alpha, others }) >= power)
  if (perGroup === null) return null
  const { standardError, critical } = againstControl(perGroup, { sd, alpha, others })
  return { perGroup, halfWidth: standardError * critical }
}

export interface BlockDesign {
  readonly variants: number
  /** Specimens of each variant in a block. */
  readonly perBlock: number
  /** Standard deviation by which a variant reacts in its own way to a block. */
  readonly reacts: number
  /** All are compared with one control alone, and not with each other. */
  readonly againstControl?: boolean
}

/**
 * Chance that a true `difference` between two variants is seen in `blocks` blocks. It is judged by how it varies from block to block, on
 * (variants − 1)(blocks − 1) degrees of freedom, as a comparison of so few blocks does: variance of a difference
 * 2 (reacts² + sd²/perBlock)/blocks.
 */
export function powerInBlocks(
  difference: number,
  blocks: number,
  { sd, alpha, design }: { sd: number; alpha: number; design: BlockDesign },
): number {
  return powerBy(difference, inBlocks(blocks, { sd, alpha, design }))
}

function inBlocks(blocks: number, { sd, alpha, design }: { sd: number; alpha: number; design: BlockDesign }) {
  const { variants, perBlock, reacts, againstControl: isControl = false } = design
  const df = (variants - 1) * (blocks - 1)
  const pairs = (variants * (variants - 1)) / 2
  return {
    standardError: Math.sqrt((2 * (reacts ** 2 + sd ** 2 / perBlock)) / blocks),
    df,
    critical:
      isControl && variants > 2
        ? manyToOneCritical(alpha, halves(variants - 1), df)
        : maximumModulusCritical(alpha, pairs, df),
  }
}

/** Fewest blocks, and the specimens of each that they make, with which a difference is seen with the chance asked. */
export function designInBlocks(
  difference: number,
  { sd, alpha, power, design }: Asked & { readonly design: BlockDesign },
): (Designed & { readonly blocks: number }) | null {
  if (!(difference > 0) || !(sd > 0) || design.variants < 2) return null
  const blocks = smallest(b => powerInBlocks(difference, b, { sd, alpha, design }) >= power)
  if (blocks === null) return null
  const { standardError, critical } = inBlocks(blocks, { sd, alpha, design })
  return { blocks, perGroup: blocks * design.perBlock, halfWidth: standardError * critical }
}

/** Chance that a straight change of `change` from the first to the last of evenly spaced variants is seen as a trend. */
export function powerOfTrend(
  change: number,
  n: number,
  { sd, alpha, variants }: { sd: number; alpha: number; variants: number },
): number {
  return powerBy(change, ofTrend(n, { sd, alpha, variants }))
}

function ofTrend(n: number, { sd, alpha, variants }: { sd: number; alpha: number; variants: number }) {
  // Places 0 … 1: Σ (x − ½)² = k(k + 1)/(12 (k − 1)) for k of them.
  const spread = (variants * (variants + 1)) / (12 * (variants - 1))
  const df = n * variants - 2
  return { standardError: sd / Math.sqrt(n * spread), df, critical: tQuantile(1 - alpha / 2, df) }
}

/** Smallest number of each with which such a change is seen as a trend with the chance asked. */
export function designOfTrend(
  change: number,
  { sd, alpha, power, variants }: Asked & { readonly variants: number },
): Designed | null {
  if (!(change > 0) || !(sd > 0) || variants < 3) return null
  const perGroup = smallest(n => powerOfTrend(change, n, { sd, alpha, variants }) >= power)
  if (perGroup === null) return null
  const { standardError, critical } = ofTrend(perGroup, { sd, alpha, variants })
  return { perGroup, halfWidth: standardError * critical }
}

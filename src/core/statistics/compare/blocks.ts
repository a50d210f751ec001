import { Matrix, QrDecomposition } from 'ml-matrix'
import { fUpperTail } from '../distributions/f.ts'
import { tQuantile, tTwoSided } from '../distributions/t.ts'
import { mean } from '../group/moments.ts'
import type { FTest } from './anova.ts'
import { directionThrough } from './combination.ts'
import { pairs } from './pairs.ts'

export interface Observation {
  readonly group: number
  readonly block: number
  readonly value: number
}

export interface BlockedPair {
  readonly a: number
  readonly b: number
  readonly difference: number
  readonly standardError: number
  readonly ci95: readonly [number, number]
  readonly t: number
  readonly df: number
  readonly p: number
  /** The contrast in independent coordinates: two pairs' estimates hang together as these two directions do. */
  readonly direction: readonly number[]
}

/** Do all groups react alike to the blocks? */
export interface Interaction extends FTest {
  /** Whether differences are judged against it, the blocks taken as drawn at random, or against the scatter within cells too. */
  readonly judgedAgainst: boolean
}

export interface BlockedLayout {
  /** Groups, with the blocks taken out; and the other way round (each after the other: type II squares). */
  readonly groups: FTest
  readonly blocks: FTest
  readonly residualSd: number
  /** `null` where no group was pulled twice in a block: the scatter that is left is then the interaction itself. */
  readonly interaction: Interaction | null
  /** Blocks that took part, and specimens in a cell on average. */
  readonly blockCount: number
  readonly perCell: number
  readonly pairs: readonly BlockedPair[]
}

/**
 * p above which, and degrees of freedom from which on, an interaction is taken as excluded: few blocks can exclude none
 * (Bancroft, Biometrics 20 (1964) 427, on pooling after a test: at 0.25). What this does to false alarms is simulated in docs/statistics.md.
 */
const EXCLUDED_P = 0.25
const EXCLUDED_DF = 6

/**
 * The two-way layout that pairs are judged by. Where groups were pulled more than once in a block, the groups may react
 * each in its own way to a block; a difference then holds for blocks to come only against that interaction. So the means of
 * the cells are judged, each as one value (blocks and interaction random: Searle, Casella and McCulloch, Variance Components,
 * 1992, chapter 4), unless the test excludes an interaction.
 */
export function blockedLayout(observations: readonly Observation[]): BlockedLayout | 'untied' | null {
  const plain = twoWayLayout(observations)
  if (plain === 'untied') return plain
  const cells = cellsOf(observations)
  if (cells.length === observations.length) return plain
  const means = twoWayLayout(cells.map(cell => ({ ...cell, value: mean(cell.values) })))
  if (means === 'untied' || means === null) return null
  if (plain === null) return means
  const dfPure = observations.length - cells.length
  const pure = cells.reduce((sum, { values }) => sum + squaresAbout(values), 0)
  const df1 = plain.groups.df2 - dfPure
  const between = Math.max(0, plain.residualSd ** 2 * plain.groups.df2 - pure)
  const f = pure > 0 ? between / df1 / (pure / dfPure) : Number.POSITIVE_INFINITY
  const p = pure > 0 ? fUpperTail(f, df1, dfPure) : 0
  const judgedAgainst = !(p > EXCLUDED_P && df1 >= EXCLUDED_DF)
  const interaction = Number.isFinite(f) ? { f, df1, df2: dfPure, p, judgedAgainst } : null
  const perCell = observations.length / cells.length
  return { ...(judgedAgainst ? means : plain), interaction, perCell }
}

const squaresAbout = (values: readonly number[]): number => {
  const middle = mean(values)
  return values.reduce((sum, v) => sum + (v - middle) ** 2, 0)
}

function cellsOf(observations: readonly Observation[]) {
  const cells = new Map<string, { group: number; block: number; values: number[] }>()
  for (const { group, block, value } of observations) {
    const key = `${group} ${block}`
    const cell = cells.get(key) ?? { group, block, values: [] }
    cell.values.push(value)
    cells.set(key, cell)
  }
  return [...cells.values()]
}

/**
 * Two-way layout without interaction: value = group + block + scatter, by least squares (QR), numbers in the cells
 * as they come. Differences between groups are then differences within blocks, so that a day or a batch that runs
 * high moves nothing; a control in each block ties blocks that share nothing else.
 * Searle, Linear Models, 1971, chapter 7.
 *
 * `null` with no degree of freedom left or no scatter; `'untied'` where the blocks do not tie the groups: some groups
 * never share a block, even by way of others, and their difference cannot be told from that of the blocks.
 */
export function twoWayLayout(observations: readonly Observation[]): BlockedLayout | 'untied' | null {
  const groups = 1 + Math.max(-1, ...observations.map(o => o.group))
  const blocks = 1 + Math.max(-1, ...observations.map(o => o.block))
  if (groups < 2 || blocks < 2) return null
  if (!tied(observations, groups + blocks, groups)) return 'untied'
  const middle = mean(observations.map(o => o.value))
  const y = observations.map(o => o.value - middle)
  const full = leastSquares(observations, y, { groups, blocks })
  const df2 = observations.length - (groups + blocks - 1)
  if (df2 < 1 || !(full.rss > 0)) return null
  const residual = full.rss / df2
  const compared = (rssWithout: number, df1: number): FTest => {
    const f = Math.max(0, rssWithout - full.rss) / df1 / residual
    return { f, df1, df2, p: fUpperTail(f, df1, df2) }
  }
  const critical = tQuantile(0.975, df2)
  const pairOf = ([a, b]: readonly [number, number]): BlockedPair => {
    // Group 0 is the base of the design: its own effect is 0.
    const contrast = Array.from({ length: groups + blocks - 1 }, (_, j): number =>
      j === 0 || j >= groups ? 0 : j === a ? 1 : j === b ? -1 : 0,
    )
    const difference = contrast.reduce((sum, c, j) => sum + c * full.coefficients[j]!, 0)
    const direction = directionThrough(full.r, contrast)
    const error = Math.sqrt(residual) * Math.hypot(...direction)
    const half = critical * error
    const t = difference / error
    return {
      a,
      b,
      difference,
      standardError: error,
      ci95: [difference - half, difference + half],
      t,
      df: df2,
      p: tTwoSided(t, df2),
      direction,
    }
  }
  return {
    groups: compared(leastSquares(observations, y, { groups: 1, blocks }).rss, groups - 1),
    blocks: compared(leastSquares(observations, y, { groups, blocks: 1 }).rss, blocks - 1),
    residualSd: Math.sqrt(residual),
    interaction: null,
    blockCount: blocks,
    perCell: 1,
    pairs: pairs(groups).map(pairOf),
  }
}

/** The layout's pair of two groups, where it has one. */
export const blockedPair = (layout: BlockedLayout | 'untied' | null, a: number, b: number) =>
  layout === null || layout === 'untied' ? null : (layout.pairs.find(p => p.a === a && p.b === b) ?? null)

/** Do the observations, as lines from group to block, join all groups and blocks into one piece? */
function tied(observations: readonly Observation[], nodes: number, groups: number): boolean {
  const parent = Array.from({ length: nodes }, (_, i) => i)
  const root = (i: number): number => {
    let at = i
    while (parent[at] !== at) at = parent[at]!
    return at
  }
  for (const { group, block } of observations) parent[root(group)] = root(groups + block)
  return new Set(parent.map((_, i) => root(i))).size === 1
}

/** Columns: one of ones, then groups but the first, then blocks but the first. */
function leastSquares(
  observations: readonly Observation[],
  y: readonly number[],
  { groups, blocks }: { groups: number; blocks: number },
) {
  const columns = groups + blocks - 1
  const design = Matrix.zeros(observations.length, columns)
  for (const [i, { group, block }] of observations.entries()) {
    design.set(i, 0, 1)
    if (groups > 1 && group > 0) design.set(i, group, 1)
    if (blocks > 1 && block > 0) design.set(i, groups - 1 + block, 1)
  }
  const qr = new QrDecomposition(design)
  const solution = qr.solve(Matrix.columnVector([...y]))
  const fitted = design.mmul(solution)
  const rss = y.reduce((sum, v, i) => sum + (v - fitted.get(i, 0)) ** 2, 0)
  return { coefficients: solution.to1DArray(), rss, r: qr.upperTriangularMatrix }
}

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
  /** What was measured on it beside the value, where that is to be taken out too. */
  readonly x?: number
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
  /** Where a covariate is taken out as well: its slope, what the groups come to at its mean, and whether one slope serves all. */
  readonly covariate: BlockedCovariate | null
}

export interface BlockedCovariate extends Pick<BlockedPair, 'ci95' | 't' | 'df' | 'p'> {
  readonly slope: number
  readonly at: number
  readonly adjusted: readonly number[]
  /** Scatter within the same layout without the covariate. */
  readonly sdWithout: number
  readonly slopesAlike: FTest | null
  readonly groupsDiffer: FTest | null
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
  const hasX = hasCovariate(observations)
  const means = twoWayLayout(
    cells.map(({ group, block, values, xs }) => ({
      group,
      block,
      value: mean(values),
      ...(hasX ? { x: mean(xs) } : {}),
    })),
  )
  if (means === 'untied' || means === null) return null
  if (plain === null) return means
  const { pure, dfPure } = withinCells(cells, observations.length, hasX)
  if (dfPure < 1) return means
  const df1 = plain.groups.df2 - dfPure
  const between = Math.max(0, plain.residualSd ** 2 * plain.groups.df2 - pure)
  const f = pure > 0 ? between / df1 / (pure / dfPure) : Number.POSITIVE_INFINITY
  const p = pure > 0 ? fUpperTail(f, df1, dfPure) : 0
  const judgedAgainst = !(p > EXCLUDED_P && df1 >= EXCLUDED_DF)
  const interaction = Number.isFinite(f) ? { f, df1, df2: dfPure, p, judgedAgainst } : null
  const perCell = observations.length / cells.length
  return { ...(judgedAgainst ? means : plain), interaction, perCell }
}

const hasCovariate = (observations: readonly Observation[]): boolean =>
  observations.length > 0 && observations.every(o => o.x !== undefined)

/** Squares within the cells, what one slope over the covariate takes of them left out, and their degrees of freedom. */
function withinCells(
  cells: readonly { readonly values: readonly number[]; readonly xs: readonly number[] }[],
  n: number,
  hasX: boolean,
): { pure: number; dfPure: number } {
  let [syy, sxy, sxx] = [0, 0, 0]
  for (const { values, xs } of cells) {
    const [my, mx] = [mean(values), hasX ? mean(xs) : 0]
    for (const [i, v] of values.entries()) {
      syy += (v - my) ** 2
      if (hasX) {
        sxy += (v - my) * (xs[i]! - mx)
        sxx += (xs[i]! - mx) ** 2
      }
    }
  }
  const sloped = hasX && sxx > 0
  return {
    pure: sloped ? Math.max(0, syy - sxy ** 2 / sxx) : syy,
    dfPure: n - cells.length - (sloped ? 1 : 0),
  }
}

function cellsOf(observations: readonly Observation[]) {
  const cells = new Map<string, { group: number; block: number; values: number[]; xs: number[] }>()
  for (const { group, block, value, x } of observations) {
    const key = `${group} ${block}`
    const cell = cells.get(key) ?? { group, block, values: [], xs: [] }
    cell.values.push(value)
    if (x !== undefined) cell.xs.push(x)
    cells.set(key, cell)
  }
  return [...cells.values()]
}

/**
 * Two-way layout without interaction: value = group + block + scatter, by least squares (QR), numbers in the cells
 * as they come. Differences between groups are then differences within blocks, so that a day or a batch that runs
 * high moves nothing; a control in each block ties blocks that share nothing else.
 * Searle, Linear Models, 1971, chapter 7. Where all have a covariate, one slope over it is fitted beside.
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
  const at = hasCovariate(observations) ? mean(observations.map(o => o.x!)) : null
  const slope = at === null ? [] : [observations.map(o => o.x! - at)]
  const full = leastSquares(observations, y, { groups, blocks, extra: slope })
  const df2 = observations.length - (groups + blocks - 1) - slope.length
  if (df2 < 1 || !(full.rss > 0) || !full.isWhole) return null
  const residual = full.rss / df2
  const compared = (rssWithout: number, df1: number): FTest => {
    const f = Math.max(0, rssWithout - full.rss) / df1 / residual
    return { f, df1, df2, p: fUpperTail(f, df1, df2) }
  }
  const critical = tQuantile(0.975, df2)
  const combined = (contrast: readonly number[]): Omit<BlockedPair, 'a' | 'b'> => {
    const difference = contrast.reduce((sum, c, j) => sum + c * full.coefficients[j]!, 0)
    const direction = directionThrough(full.r, contrast)
    const error = Math.sqrt(residual) * Math.hypot(...direction)
    const half = critical * error
    const t = difference / error
    return {
      difference,
      standardError: error,
      ci95: [difference - half, difference + half],
      t,
      df: df2,
      p: tTwoSided(t, df2),
      direction,
    }
  }
  const columns = groups + blocks - 1 + slope.length
  const pairOf = ([a, b]: readonly [number, number]): BlockedPair => ({
    a,
    b,
    // Group 0 is the base of the design: its own effect is 0.
    ...combined(
      Array.from({ length: columns }, (_, j): number =>
        j === 0 || j >= groups ? 0 : j === a ? 1 : j === b ? -1 : 0,
      ),
    ),
  })
  return {
    groups: compared(leastSquares(observations, y, { groups: 1, blocks, extra: slope }).rss, groups - 1),
    blocks: compared(leastSquares(observations, y, { groups, blocks: 1, extra: slope }).rss, blocks - 1),
    residualSd: Math.sqrt(residual),
    interaction: null,
    blockCount: blocks,
    perCell: 1,
    pairs: pairs(groups).map(pairOf),
    covariate:
      at === null
        ? null
        : covariateOf(observations, y, {
            groups,
            blocks,
            at,
            middle,
            full,
            own: combined(Array.from({ length: columns }, (_, j): number => (j === columns - 1 ? 1 : 0))),
            df2,
          }),
  }
}

/** What the covariate does beside groups and blocks. */
function covariateOf(
  observations: readonly Observation[],
  y: readonly number[],
  {
    groups,
    blocks,
    at,
    middle,
    full,
    own: { difference: slope, ci95, t, df, p },
    df2,
  }: {
    groups: number
    blocks: number
    at: number
    middle: number
    full: ReturnType<typeof leastSquares>
    own: Omit<BlockedPair, 'a' | 'b'>
    df2: number
  },
): BlockedCovariate {
  const without = leastSquares(observations, y, { groups, blocks, extra: [] })
  const x = observations.map(o => o.x! - at)
  const slopes = Array.from({ length: groups }, (_, g) =>
    observations.map((o, i) => (o.group === g ? x[i]! : 0)),
  )
  const each = leastSquares(observations, y, { groups, blocks, extra: slopes })
  const dfEach = df2 - (groups - 1)
  const f = Math.max(0, full.rss - each.rss) / (groups - 1) / (each.rss / dfEach)
  const ofX = leastSquares(observations, x, { groups, blocks, extra: [] })
  const ofXBlocks = leastSquares(observations, x, { groups: 1, blocks, extra: [] })
  const dfX = df2 + 1
  const fX = Math.max(0, ofXBlocks.rss - ofX.rss) / (groups - 1) / (ofX.rss / dfX)
  // Blocks other than the first stand behind the groups; the mean over all is what a group comes to in a typical one.
  const ofBlocks =
    full.coefficients.slice(groups, groups + blocks - 1).reduce((sum, c) => sum + c, 0) / blocks
  return {
    slope,
    ci95,
    t,
    df,
    p,
    at,
    adjusted: Array.from(
      { length: groups },
      (_, g) => middle + full.coefficients[0]! + (g === 0 ? 0 : full.coefficients[g]!) + ofBlocks,
    ),
    sdWithout: Math.sqrt(without.rss / (df2 + 1)),
    slopesAlike:
      each.isWhole && dfEach >= 1 && each.rss > 0
        ? { f, df1: groups - 1, df2: dfEach, p: fUpperTail(f, groups - 1, dfEach) }
        : null,
    groupsDiffer:
      ofX.rss > 0 ? { f: fX, df1: groups - 1, df2: dfX, p: fUpperTail(fX, groups - 1, dfX) } : null,
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

/** A column that the others leave no more of than this, by the diagonal of R, tells nothing of its own. */
const NOTHING_LEFT = 1e-9

/** Columns: one of ones, then groups but the first, then blocks but the first, then the extra ones. */
function leastSquares(
  observations: readonly Observation[],
  y: readonly number[],
  { groups, blocks, extra }: { groups: number; blocks: number; extra: readonly (readonly number[])[] },
) {
  const before = groups + blocks - 1
  const columns = before + extra.length
  const design = Matrix.zeros(observations.length, columns)
  for (const [i, { group, block }] of observations.entries()) {
    design.set(i, 0, 1)
    if (groups > 1 && group > 0) design.set(i, group, 1)
    if (blocks > 1 && block > 0) design.set(i, groups - 1 + block, 1)
    for (const [k, column] of extra.entries()) design.set(i, before + k, column[i]!)
  }
  const qr = new QrDecomposition(design)
  const r = qr.upperTriangularMatrix
  const isWhole = extra.every(
    (column, k) => Math.abs(r.get(before + k, before + k)) > NOTHING_LEFT * (1 + Math.hypot(...column)),
  )
  if (!isWhole) return { coefficients: [], rss: Number.NaN, r, isWhole }
  const solution = qr.solve(Matrix.columnVector([...y]))
  const fitted = design.mmul(solution)
  const rss = y.reduce((sum, v, i) => sum + (v - fitted.get(i, 0)) ** 2, 0)
  return { coefficients: solution.to1DArray(), rss, r, isWhole }
}

import { betaQuantile } from '../distributions/beta.ts'
import { tQuantile, tTwoSided } from '../distributions/t.ts'

/** What Welch's difference of two means rests on: the variance of each mean as found, and its degrees of freedom. */
export interface WelchParts {
  readonly parts: readonly [number, number]
  readonly df: readonly [number, number]
}

/**
 * Welch's test in groups of three to six is asked for 5 in 100 and raises between 3.5 and 5.8, by how the scatters compare: its degrees of
 * freedom are a little small where they are alike and a little large where they are not. Over several looks that would add up. The p of a look is
 * therefore told by how often Welch's p would be so small if the two scatters stood to each other as found, and, since that ratio
 * itself is a matter of luck, once more by how often that p would be so small: prepivoting, twice (Beran, JASA 83 (1988) 687, whose example is this
 * very problem), by integration where he draws samples. What these leave is bounded, see {@link bounded}.
 */
export function calibratedP(p: number, { parts: [a, b], df }: WelchParts): number {
  if (!(p > 0)) return 0
  const logP = Math.log(p)
  return Math.min(1, Math.exp(logP + offsetAt(tableOf(df), logitOf(a, b), logP)))
}

/** The other way round: Welch's p from which on {@link calibratedP} is no more than `level`. */
export function levelFor(level: number, { parts: [a, b], df }: WelchParts): number {
  const table = tableOf(df)
  const logit = logitOf(a, b)
  return Math.min(1, Math.exp(asked(Math.log(level), logP => offsetAt(table, logit, logP))))
}

/**
 * How often Welch's test at `level` calls two equal means different whose variances are `share` and 1 − `share` of that of their difference. Of the
 * two χ² the share of the first is Beta(ν₁/2, ν₂/2) and independent of their sum, so that given the share the test is one of Student's t on
 * ν₁ + ν₂ degrees of freedom against a limit of its own.
 */
export const welchSize = (level: number, df: readonly [number, number], share: number): number =>
  sizeOf(df, share, () => level)

/** Steps of the table over ln(share/(1 − share)) and over ln p; between them it is linear, beyond them it stays. */
const LOGITS = Float64Array.from({ length: 13 }, (_, i) => i - 6)
const LOG_LEVELS = Float64Array.from({ length: 7 }, (_, i) => Math.log(0.9) - 1.5 * i)
/** ln of a level at which one of several looks is judged. */
const LOG_ASKED = Math.log(0.02)
/** Strata of equal chance over how the scatter found divides between the two groups. */
const STRATA = 32

/** ln of the calibrated p less ln p, by row over {@link LOGITS}, by column over {@link LOG_LEVELS}. */
type Table = readonly Float64Array[]

const tables = new Map<string, Table>()

function tableOf(df: readonly [number, number]): Table {
  const key = df.join()
  const known = tables.get(key)
  if (known) return known
  const made = bounded(calibrated(calibrated(null, df), df), df)
  tables.set(key, made)
  return made
}

/** One round: how often would the p of `before` be so small, were the scatters as found? */
function calibrated(before: Table | null, df: readonly [number, number]): Table {
  return Array.from(LOGITS, logit =>
    Float64Array.from(LOG_LEVELS, logP => {
      if (before === null) return Math.log(welchSize(Math.exp(logP), df, shareOf(logit))) - logP
      const reached = logP + offsetAt(before, logit, logP)
      const limit = (found: number): number =>
        Math.exp(
          Math.min(
            0,
            asked(reached, log => offsetAt(before, Math.log(found / (1 - found)), log)),
          ),
        )
      return Math.log(sizeOf(df, shareOf(logit), limit)) - logP
    }),
  )
}

/**
 * What the rounds leave: where the scatters stand so that {@link LOG_ASKED} is passed most often, how much more often is it passed? Since nobody knows
 * how the scatters stand, p is raised by that factor, and towards 1 by less, so that 1 stays 1. At the still smaller levels of each of several pairs the
 * factor would be larger, but sharing the level among them errs to the careful side by more than that (simulated: docs/statistics.md). Of many it is 1. By the steps of
 * the table three of each pass 2 in 100 up to 2.25 times in 100.
 */
function bounded(before: Table, df: readonly [number, number]): Table {
  const limit = (found: number): number =>
    Math.exp(asked(LOG_ASKED, log => offsetAt(before, Math.log(found / (1 - found)), log)))
  const most = Math.max(...Array.from(LOGITS, logit => Math.log(sizeOf(df, shareOf(logit), limit))))
  const excess = Math.max(0, most - LOG_ASKED)
  return before.map(row => row.map((offset, i) => offset + excess * Math.min(1, LOG_LEVELS[i]! / LOG_ASKED)))
}

/** How the sum of the two χ² may divide: the middles of the strata. */
function divisionsOf(first: number, second: number): Float64Array {
  const key = `${first},${second}`
  const known = divisions.get(key)
  if (known) return known
  const made = Float64Array.from({ length: STRATA }, (_, i) =>
    betaQuantile((i + 0.5) / STRATA, first / 2, second / 2),
  )
  divisions.set(key, made)
  return made
}

const divisions = new Map<string, Float64Array>()

/** As {@link welchSize}, where the level hangs on the share that is found. */
function sizeOf(
  [first, second]: readonly [number, number],
  share: number,
  levelAt: (found: number) => number,
): number {
  const df = first + second
  let sum = 0
  for (const chi of divisionsOf(first, second)) {
    const [a, b] = [(share * chi) / first, ((1 - share) * (1 - chi)) / second]
    const found = a / (a + b)
    const own = 1 / (found ** 2 / first + (1 - found) ** 2 / second)
    const limit = tQuantile(1 - levelAt(found) / 2, own)
    sum += tTwoSided(limit * Math.sqrt(df * (a + b)), df)
  }
  return sum / STRATA
}

/** ln p at which ln p and its offset come to `reached`. */
function asked(reached: number, offset: (logP: number) => number): number {
  let logP = reached
  for (let turn = 0; turn < 30; turn++) {
    const next = reached - offset(logP)
    if (Math.abs(next - logP) < 1e-12) return next
    logP = next
  }
  return logP
}

const shareOf = (logit: number): number => 1 / (1 + Math.exp(-logit))
const logitOf = (a: number, b: number): number =>
  a === 0 ? LOGITS[0]! : b === 0 ? LOGITS.at(-1)! : Math.log(a / b)

function offsetAt(table: Table, logit: number, logP: number): number {
  const [row, u] = placeIn(LOGITS, logit)
  const [column, v] = placeIn(LOG_LEVELS, logP)
  const at = (r: number): number => table[r]![column]! * (1 - v) + table[r]![column + 1]! * v
  return at(row) * (1 - u) + at(row + 1) * u
}

/** The step of an even grid that `x` lies in, and how far along it. */
function placeIn(grid: Float64Array, x: number): [number, number] {
  const place = (x - grid[0]!) / (grid[1]! - grid[0]!)
  const within = Math.min(grid.length - 1, Math.max(0, place))
  const step = Math.min(grid.length - 2, Math.floor(within))
  return [step, within - step]
}

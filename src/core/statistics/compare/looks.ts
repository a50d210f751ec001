import { levelsBySpending, spentByLevels, spentEarly } from '../plan/boundaries.ts'

/** A study that may be looked at more than once: specimens of each group, on average, at its earlier looks, rising. */
export interface Looks {
  readonly earlier: readonly number[]
  /** Specimens of each that were planned; a look before they are all pulled spends next to nothing. `null`: none planned. */
  readonly planned?: number | null
  /** How many looks were planned from then on, the last of which may spend all that is left; `null`: not settled. */
  readonly stages?: number | null
}

/**
 * The looks that count now, this one the last: the same specimens looked at again, or fewer of them, are no look more. The one rule for planned
 * looks and unplanned ones. `now`: specimens of each group.
 */
const looksUpTo = ({ earlier }: Pick<Looks, 'earlier'>, now: number): number[] => [
  ...looksBefore({ earlier }, now),
  now,
]

/** The looks before this one, after {@link looksUpTo}. */
export const looksBefore = ({ earlier }: Pick<Looks, 'earlier'>, now: number): number[] =>
  earlier.filter(n => n < now)

/**
 * The same specimens looked at again are no look more: of a study for which no more were planned, that is its first and only
 * one, `null`. `now`: specimens of each group.
 */
export const looksThatCount = (looks: Looks | null, now: number): Looks | null =>
  looks !== null &&
  (looks.planned ?? null) === null &&
  looks.stages === 1 &&
  looksBefore(looks, now).length === 0
    ? null
    : looks

/** Share of the chance of a false alarm that every look keeps back for those after it. */
export const KEPT_BACK = 0.2

/**
 * The level at which this look is judged, so that over all looks together, however many there will be, the chance of even
 * one false alarm among `count` pairs stays `alpha`: stage k may bring what is spent to α (1 − 0.2^k), 4 of 5 in 100 at the first,
 * and to all of it at the last, where their number was planned. A look before the planned specimens are all pulled may spend
 * what O'Brien and Fleming's form leaves it, close to nothing. Spending after Lan and DeMets (Biometrika 70 (1983) 659), shared over the
 * pairs after Bonferroni; the bounds take in how the looks hang together. `now`: specimens of each group. 0 where nothing is left to spend.
 */
export function levelAtLook(alpha: number, looks: Looks, now: number, count: number): number {
  const pairs = Math.max(1, count)
  const at = looksUpTo(looks, now)
  if (at.length === 1) return spentUpTo(alpha, looks, at, 0)
  const levels = levelsBySpending(
    at.map(n => n / now),
    look => spentUpTo(alpha / pairs, looks, at, look),
  )
  return Math.min(1, pairs * levels.at(-1)!)
}

/** What may be spent of `alpha` up to a look. */
function spentUpTo(
  alpha: number,
  { planned = null, stages = null }: Looks,
  at: readonly number[],
  look: number,
) {
  const n = at[look]!
  const upTo = (stage: number): number =>
    alpha * (stages !== null && stage >= stages ? 1 : 1 - KEPT_BACK ** stage)
  if (planned !== null && n < planned) return spentEarly(n / planned, upTo(1))
  return upTo(stageOf(at.slice(0, look + 1), planned))
}

/** Which stage the last of these looks is; 0 before the planned specimens are all pulled. */
const stageOf = (at: readonly number[], planned: number | null): number =>
  at.filter(n => planned === null || n >= planned).length

/** Where a study stands: the stage that is judged now, and what of the chance of a false alarm is spent with it, as a share. */
export function standingAtLook(looks: Looks, now: number): { stage: number; spent: number } {
  const at = looksUpTo(looks, now)
  return { stage: stageOf(at, looks.planned ?? null), spent: spentUpTo(1, looks, at, at.length - 1) }
}

/** The α over all looks at which a family's p at this look would just be seen. */
export function pOverLooks(p: number, looks: Looks, now: number, count: number): number {
  let [low, high] = [Math.log(Math.max(1e-12, p)), Math.log(0.999)]
  if (levelAtLook(Math.exp(low), looks, now, count) >= p) return Math.exp(low)
  if (levelAtLook(Math.exp(high), looks, now, count) < p) return 1
  for (let turn = 0; turn < 40; turn++) {
    const middle = (low + high) / 2
    if (levelAtLook(Math.exp(middle), looks, now, count) >= p) high = middle
    else low = middle
  }
  return Math.exp(high)
}

/** The chance of a false alarm over all looks where each, this one too, is judged at `alpha` as if it were the only one. */
export function alarmsIfUnplanned(alpha: number, looks: Looks, now: number): number {
  const at = looksUpTo(looks, now)
  return spentByLevels(
    at.map(n => n / now),
    at.map(() => alpha),
  )
}

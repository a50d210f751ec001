import type { Decision, PairTests } from './comparePair.ts'
import { loadingsAgainst } from './loadings.ts'
import { type Looks, levelAtLook, pOverLooks } from './looks.ts'
import { type Estimate, type Family, sidak, simultaneousHalf, simultaneousP } from './simultaneous.ts'
import type { Specimen } from './specimen.ts'
import type { WelchParts } from './stageLimit.ts'
import { type JudgedPair, LEVEL, middleOf } from './verdict.ts'

interface Tested {
  readonly a: number
  readonly b: number
  readonly tests: PairTests
}

/** All pairs judged together: the adjusted p, the interval that goes with it, and whether they are as good as each other. */
export function judgePairs(
  groups: readonly { readonly name: string; readonly specimens: readonly Specimen[] }[],
  tests: readonly Tested[],
  {
    isUntied,
    worthShare,
    looks = null,
    control = null,
  }: {
    isUntied: boolean
    worthShare: number | null
    looks?: Looks | null
    /** Group, by its place, that all pairs compare with; `null` where they are all pairs. */
    control?: number | null
  },
): { pairs: JudgedPair[]; family: Family } {
  const decided = isUntied ? [] : tests.filter(t => t.tests.decision !== null)
  const count = decided.length
  const now = perGroupOf(groups)
  const own = looks === null ? LEVEL : levelAtLook(LEVEL, looks, now, count)
  // Nothing left to spend: judged as a single look, and a warning says what that makes of the whole.
  const staged = own > 0 ? looks : null
  const family: Family = {
    count,
    level: own > 0 ? own : LEVEL,
    loadings:
      control === null || count < 2
        ? null
        : loadingsAgainst(decided.map(t => ({ tests: t.tests, controlFirst: t.a === control }))),
  }
  const overLooks = (p: number): number => (staged === null ? p : pOverLooks(p, staged, now, count))
  // A look that is one of several is never easier to pass than a single one.
  const pOf = (estimate: Estimate, found: WelchParts | null): number =>
    staged === null
      ? simultaneousP(estimate, family)
      : Math.max(overLooks(simultaneousP(estimate, family, found)), simultaneousP(estimate, family))
  const halfOf = (estimate: Estimate, found: WelchParts | null, sides: 1 | 2): number => {
    const at = (level: number, by: WelchParts | null) =>
      simultaneousHalf(estimate, { ...family, level: sides * level }, by)
    return staged === null ? at(family.level, null) : Math.max(at(family.level, found), at(LEVEL, null))
  }
  const pairs = tests.map(({ a, b, tests: own }): JudgedPair => {
    const plain = {
      a: groups[a]!,
      b: groups[b]!,
      tests: own,
      pAdjusted: null,
      ci95: null,
      equivalence: null,
      difference: own.difference,
    }
    const { decision } = own
    if (decision === null || isUntied) return plain
    if (decision.by === 'ranks') return { ...plain, pAdjusted: overLooks(sidak(decision.p, count)) }
    const { estimate } = decision
    const found = foundBy(decision, own)
    return {
      ...plain,
      pAdjusted: pOf(estimate, found),
      ci95: around(estimate, halfOf(estimate, found, 1)),
      equivalence:
        worthShare === null
          ? null
          : equivalenceOf(estimate, worthShare * middleOf(plain), halfOf(estimate, found, 2)),
      difference: estimate.difference,
    }
  })
  return { pairs, family }
}

/** Specimens of a group on average: what a look is measured by. */
export const perGroupOf = (groups: readonly { readonly specimens: readonly Specimen[] }[]): number =>
  groups.reduce((sum, g) => sum + g.specimens.filter(s => s.value !== null && s.dropped === null).length, 0) /
  groups.length

const around = ({ difference }: Estimate, half: number): readonly [number, number] => [
  difference - half,
  difference + half,
]

/** What Welch's test rests on, where it decides. */
const foundBy = (decision: Decision, { nA, nB }: PairTests): WelchParts | null =>
  decision.by === 'welch' ? { parts: decision.parts, df: [nA - 1, nB - 1] } : null

/**
 * Are two means within `margin` of each other? Two one-sided tests, each at the family's level: shown where the interval of
 * twice that level lies within ± margin (Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657), simultaneous over the
 * family like all else. `null` where the margin is nothing.
 */
function equivalenceOf(estimate: Estimate, margin: number, half: number): JudgedPair['equivalence'] {
  if (!(margin > 0)) return null
  const ci90 = around(estimate, half)
  return { margin, ci90, shown: ci90[0] > -margin && ci90[1] < margin }
}

import type { PairTests } from './comparePair.ts'
import { loadingsAgainst } from './loadings.ts'
import { type Looks, levelAtLook, pOverLooks } from './looks.ts'
import { type Estimate, type Family, sidak, simultaneousHalf, simultaneousP } from './simultaneous.ts'
import type { Specimen } from './specimen.ts'
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
    return {
      ...plain,
      pAdjusted: overLooks(simultaneousP(estimate, family)),
      ci95: around(estimate, simultaneousHalf(estimate, family)),
      equivalence: worthShare === null ? null : equivalenceOf(estimate, worthShare * middleOf(plain), family),
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

/**
 * Are two means within `margin` of each other? Two one-sided tests, each at the family's level: shown where the interval of
 * twice that level lies within ± margin (Schuirmann, J. Pharmacokinet. Biopharm. 15 (1987) 657), simultaneous over the
 * family like all else. `null` where the margin is nothing.
 */
function equivalenceOf(estimate: Estimate, margin: number, family: Family): JudgedPair['equivalence'] {
  if (!(margin > 0)) return null
  const ci90 = around(estimate, simultaneousHalf(estimate, { ...family, level: 2 * family.level }))
  return { margin, ci90, shown: ci90[0] > -margin && ci90[1] < margin }
}

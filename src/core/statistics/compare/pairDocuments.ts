import { tTwoSided } from '../distributions/t.ts'
import type { ComparedPair } from '../document.ts'
import { anyScatters } from '../group/moments.ts'
import { type BlockedLayout, blockedPair } from './blocks.ts'
import { detectableOf, type PairTests } from './comparePair.ts'
import { pairs as pairsOf } from './pairs.ts'
import { ALONE, simultaneousHalf, simultaneousP } from './simultaneous.ts'
import { atLeastOf, measuredOf, valuesOf } from './specimen.ts'
import { gamesHowell, type Simultaneous, tukeyKramer } from './tukey.ts'
import { isSeen, type Judged, verdictOfPair } from './verdict.ts'

/** The record of each pair: what decides, and beside it what other tests say. */
export function pairDocuments(
  { groups, pairs, family }: Judged,
  layout: BlockedLayout | 'untied' | null,
): ComparedPair[] {
  const values = groups.map(g => valuesOf(measuredOf(g.specimens)))
  const means = !groups.some(g => atLeastOf(g.specimens).length > 0)
  const tukey = means && anyScatters(values) ? tukeyKramer(values) : null
  const howell = means ? gamesHowell(values) : null
  const places = pairsOf(groups.length)
  return pairs.map(pair => {
    const { tests } = pair
    const [a, b] = [groups.indexOf(pair.a), groups.indexOf(pair.b)]
    const place = places.findIndex(([x, y]) => x === a && y === b)
    const blocked = blockedPair(layout, a, b)
    const { decision } = tests
    const estimate = decision === null || decision.by === 'ranks' ? null : decision.estimate
    const t = estimate && estimate.difference / Math.hypot(estimate.standardError, estimate.shared)
    return {
      a: pair.a.name,
      b: pair.b.name,
      difference: pair.difference,
      ci95: pair.ci95,
      t,
      df: estimate?.df ?? null,
      p: estimate && t !== null ? tTwoSided(t, estimate.df) : null,
      pAdjusted: pair.pAdjusted,
      decidedBy: decision?.by ?? null,
      seen: isSeen(pair),
      verdict: verdictOfPair(pair),
      equivalence: pair.equivalence,
      welch: tests.welch,
      mannWhitney: tests.mannWhitney,
      permutation: tests.permutation,
      effect: tests.effect?.hedgesG ?? null,
      effect95: tests.effect?.ci95 ?? null,
      chance: tests.superiority && { aBeatsB: tests.superiority.chance, ci95: tests.superiority.ci95 },
      tukey: simultaneous(tukey, place),
      gamesHowell: simultaneous(howell, place),
      blocked: blocked && {
        difference: blocked.difference,
        ci95: blocked.ci95,
        t: blocked.t,
        df: blocked.df,
        p: blocked.p,
      },
      withDoubt: withDoubt(tests),
      detectable: detectableOf(tests, family),
    }
  })
}

/** The pair by itself with the doubt that the groups do not share; `null` where they share all. */
function withDoubt({ decision }: PairTests): ComparedPair['withDoubt'] {
  if (decision === null || decision.by === 'ranks' || !(decision.estimate.shared > 0)) return null
  const { estimate } = decision
  const half = simultaneousHalf(estimate, { ...ALONE, level: 0.05 })
  return {
    sharedStandard: estimate.shared,
    ci95: [estimate.difference - half, estimate.difference + half],
    p: simultaneousP(estimate, ALONE),
  }
}

const simultaneous = (all: readonly Simultaneous[] | null, i: number): ComparedPair['tukey'] =>
  all && { ci95: all[i]!.ci95, p: all[i]!.p }

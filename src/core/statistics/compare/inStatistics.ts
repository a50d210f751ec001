import { tTwoSided } from '../distributions/t.ts'
import type { FTest } from './anova.ts'
import type { KruskalWallis } from './kruskalWallis.ts'
import { ALONE, simultaneousP } from './simultaneous.ts'
import type { Judged, JudgedPair } from './verdict.ts'
import { pText } from './words.ts'

const MAIN = {
  welch: 'Welch',
  blocks: 'within blocks',
  covariate: 'at one covariate',
  censored: 'maximum likelihood with bounds',
} as const

/** More pairs than this make no sentence. */
const MOST_TOLD = 6

/** The same verdict in the words of statistics, so that a reader of them can check it. */
export function inStatistics(
  judged: Judged,
  overall: { readonly welch: FTest | null; readonly kruskalWallis: KruskalWallis | null } | null,
): string {
  if (judged.pairs.length === 0) return 'One group: Student interval for its mean; no test.'
  const all = judged.groups.length > 2 && overall ? overallText(overall) : []
  const note =
    judged.pairs.length > 1
      ? judged.against === null
        ? ` (all ${judged.pairs.length} pairs together by the studentized maximum modulus, Dunnett's T3)`
        : ` (${judged.pairs.length} comparisons with ${judged.against} together by Dunnett's many-to-one t, each with its own degrees of freedom)`
      : ''
  if (judged.pairs.length > MOST_TOLD)
    return `${[...all, `${judged.pairs.length} pairs, each in the table of pairs`].join('; ')}${note}.`
  const pairs = judged.pairs.map(p => pairText(p, judged.pairs.length > 1))
  return `${[...all, ...pairs].join('; ')}${note}.`
}

function overallText({ welch, kruskalWallis }: { welch: FTest | null; kruskalWallis: KruskalWallis | null }) {
  return [
    ...(welch
      ? [
          `Welch's analysis of variance F(${welch.df1}, ${welch.df2.toFixed(1)}) = ${fixed(welch.f)}, ${pText(welch.p)}`,
        ]
      : []),
    ...(kruskalWallis
      ? [`Kruskal–Wallis H(${kruskalWallis.df}) = ${fixed(kruskalWallis.h)}, ${pText(kruskalWallis.p)}`]
      : []),
  ]
}

function pairText(pair: JudgedPair, several: boolean): string {
  const { tests } = pair
  const name = `${pair.a.name} − ${pair.b.name}`
  if (tests.decision === null) return `${name}: no test is possible`
  const ranks = tests.mannWhitney
  const rankText = ranks ? `Mann–Whitney U = ${ranks.u}, ${pText(ranks.p)} (${ranks.method})` : ''
  const adjusted = several && pair.pAdjusted !== null ? `, adjusted ${pText(pair.pAdjusted)}` : ''
  if (tests.decision.by === 'ranks') return `${name}: ${rankText}${adjusted}`
  const { by, estimate } = tests.decision
  const { difference, standardError, df, shared } = estimate
  const t = difference / standardError
  const test = `t(${df.toFixed(1)}) = ${fixed(t)}, ${pText(tTwoSided(t, df))}`
  const doubt =
    shared > 0 ? `; with the doubt that is not shared ${pText(simultaneousP(estimate, ALONE))}` : ''
  const main = `${MAIN[by]} ${test}${doubt}`
  const effect = tests.effect
    ? `, g = ${fixed(tests.effect.hedgesG)} (${fixed(tests.effect.ci95[0])} to ${fixed(tests.effect.ci95[1])})`
    : ''
  return `${name}: ${main}${adjusted}${effect}${rankText ? `, ${rankText}` : ''}`
}

const fixed = (value: number): string => value.toFixed(2).replace('-', '−')

import { z } from 'zod'
import { type Comparison, comparisonSchema } from './document.ts'

/**
 * A comparison of any version, as the present one. Version 1 gave each pair an interval of its own beside a verdict over
 * all pairs: such an interval stands only where it agrees with the verdict, and nothing was called as good as anything.
 */
export const anyComparisonSchema = z.preprocess(asPresent, comparisonSchema)

type Ends = readonly [number, number]

interface GroupOfVersion1 {
  readonly ci95: Ends | null
  readonly ci95WithDoubt: Ends | null
}

interface PairOfVersion1 {
  readonly ci95: Ends | null
  readonly difference: number | null
  readonly t: number | null
  readonly df: number | null
  readonly p: number | null
  readonly pAdjusted: number | null
  readonly seen: boolean
  readonly blocked: { readonly ci95: Ends; readonly difference: number } | null
  readonly withDoubt: { readonly ci95: Ends } | null
}

interface ComparisonOfVersion1 {
  readonly groups: readonly GroupOfVersion1[]
  readonly pairs: readonly PairOfVersion1[]
}

function asPresent(value: unknown): unknown {
  if (!isVersion1(value)) return value
  return {
    ...value,
    version: 2,
    groups: value.groups.map(group => ({
      ...group,
      ci95: group.ci95WithDoubt ?? group.ci95,
      ci95OfScatter: group.ci95,
    })),
    family: { count: value.pairs.filter(pair => pair.pAdjusted !== null).length, level: 0.05 },
    worthShare: null,
    pairs: value.pairs.map(presentPair),
  } satisfies Partial<Record<keyof Comparison, unknown>>
}

const isVersion1 = (value: unknown): value is ComparisonOfVersion1 =>
  typeof value === 'object' &&
  value !== null &&
  'version' in value &&
  value.version === 1 &&
  'groups' in value &&
  Array.isArray(value.groups) &&
  'pairs' in value &&
  Array.isArray(value.pairs)

function presentPair(pair: PairOfVersion1) {
  const told = pair.blocked?.ci95 ?? pair.withDoubt?.ci95 ?? pair.ci95
  const agrees = told !== null && (told[0] > 0 || told[1] < 0) === pair.seen
  const { difference, ci95, t, df, p } = pair
  const welch =
    difference !== null && ci95 !== null && t !== null && df !== null && p !== null
      ? { difference, standardError: difference / t, ci95, t, df, p }
      : null
  return {
    ...pair,
    difference: pair.blocked?.difference ?? difference,
    ci95: agrees ? told : null,
    verdict: pair.seen ? 'different' : 'undecided',
    equivalence: null,
    welch,
  }
}

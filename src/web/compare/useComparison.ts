import { keepPreviousData, useQueries, useQuery } from '@tanstack/react-query'
import type { RelativeScatter } from '../../core/statistics/compare/borrowed.ts'
import type { StudyComparison } from '../../core/statistics/compare/compareStudy.ts'
import type { Quantity } from '../../core/statistics/compare/quantity.ts'
import type { ForceUnit } from '../../core/units/force.ts'
import { useBench } from '../app/context.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { KEYS } from '../data/queries.ts'
import { got } from '../data/trouble.ts'
import { texts } from '../texts/index.ts'
import { comparedStudies } from './comparedStudies.ts'

export interface ComparisonChoice {
  readonly quantity: Quantity
  readonly blocksBy: 'batch' | 'operator' | 'day' | null
  /** What is worth a difference, in per cent of the mean. */
  readonly worthPct?: number | null
  /** Compare all with the control only. */
  readonly againstControl?: boolean
  readonly covariate?: NonNullable<StudyComparison['covariate']> | null
  /** The one way of failing that is compared; `null`: whatever let go first. */
  readonly mode?: string | null
  /** Ids of further studies. */
  readonly alsoStudies: readonly string[]
  /** Ids of like studies, whose scatter pairs of few specimens may borrow. */
  readonly likeStudies?: readonly string[]
}

/** The same seed as the command line's, so that resampling gives the same digits. */
const SEED = 1

/** The studies that are compared: the open one and those chosen beside it, as far as they have come. */
export function useOpens(
  open: OpenStudy,
  alsoStudies: readonly string[],
): readonly [OpenStudy, ...OpenStudy[]] {
  const { backend } = useBench()
  const others = useQueries({
    queries: alsoStudies.map(id => ({
      queryKey: KEYS.study(id),
      queryFn: () => backend.studies.open(id),
    })),
  })
  return [open, ...others.flatMap(({ data }) => (data ? [data] : []))]
}

/** The comparison from the engine's thread; the last one stays in sight while a new one is counted. */
export function useComparison(
  opens: readonly OpenStudy[],
  {
    quantity,
    blocksBy,
    worthPct = null,
    againstControl = false,
    covariate = null,
    mode = null,
  }: ComparisonChoice,
  unit: ForceUnit,
  without: ReadonlySet<string>,
  like: readonly RelativeScatter[] | null = null,
) {
  const { engine } = useBench()
  const study = comparedStudies(opens, without, texts.compare.whyTry)
  const options = {
    quantity,
    seed: SEED,
    forceUnit: unit,
    worthShare: worthPct === null ? null : worthPct / 100,
    againstControl,
    mode,
    like,
    ...(blocksBy === null ? {} : { blocksBy }),
    ...(covariate === null ? {} : { covariate }),
  }
  const readingIds = opens.flatMap(({ readings }) => readings.map(({ id }) => id))
  return useQuery({
    // Readings never change: their ids stand for them, and the key stays small.
    queryKey: [
      'comparison',
      { ...study, readings: null, pulledAt: null, practice: [...(study.practice ?? [])] },
      readingIds,
      [...study.pulledAt],
      {
        ...options,
        covariate: typeof covariate === 'object' && covariate ? [covariate.name, ...covariate.of] : covariate,
      },
    ],
    queryFn: async () => got(await engine.compare(study, options)),
    placeholderData: keepPreviousData,
    enabled: study.readings.length > 0,
    staleTime: Number.POSITIVE_INFINITY,
  })
}

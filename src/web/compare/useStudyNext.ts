import { answerIn } from '../../core/answer/answerOf.ts'
import { type StudyStep, studyNext } from '../../core/answer/studyNext.ts'
import type { Comparison } from '../../core/statistics/document.ts'
import { useUnit } from '../app/units.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { askedOf } from '../plan/asked.ts'
import { pulledIds } from '../read/order.ts'
import { peakUnitOf } from './logUnit.ts'
import { useComparison } from './useComparison.ts'

const NONE: ReadonlySet<string> = new Set()

/** What is compared of a study where nobody chooses: what counts by its plan. */
export const usualChoice = ({ study }: OpenStudy) =>
  ({ quantity: askedOf(study.plan)?.quantity ?? 'peakForce', blocksBy: null, alsoStudies: [] }) as const

/** The comparison of a study as every place has it before anything is chosen. */
export const useUsualComparison = (open: OpenStudy) =>
  useComparison([open], usualChoice(open), useUnit(peakUnitOf([open])), NONE)

/** The next step of a study with this comparison, as every place says it. */
export const stepOf = (open: OpenStudy, comparison: Comparison | undefined): StudyStep =>
  studyNext(
    {
      question: open.study.question,
      plan: open.study.plan,
      variants: open.variants,
      specimens: open.specimens,
      pulled: pulledIds(open),
    },
    comparison ? answerIn(comparison).next : null,
  )

/** The next step of a study; `null` while its comparison is counted. */
export function useStudyNext(open: OpenStudy): StudyStep | null {
  const { data, error } = useUsualComparison(open)
  return data || error || open.readings.length === 0 ? stepOf(open, data) : null
}

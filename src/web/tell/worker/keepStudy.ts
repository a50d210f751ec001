import { fine, type Outcome } from '../../../core/problem.ts'
import { composedStudy, withHead } from '../../../publish/study/compose.ts'
import { withInitials } from '../../../publish/study/initials.ts'
import type { PublishedStudy } from '../../../publish/study/study.ts'
import type { OpenStudy } from '../../data/backend.ts'
import { gatheredStudy, type TellSource } from './gather.ts'
import type { Told } from './types.ts'

/**
 * The study that is told, gathered once and again only when something in it changes that its figures depend on: the
 * words of the page, its question and its method are put over it.
 */
export function keepStudy(source: TellSource): (told: Told) => Promise<Outcome<PublishedStudy>> {
  let kept: { readonly key: string; readonly study: Promise<Outcome<PublishedStudy>> } | null = null
  return async ({ open, initials }) => {
    const key = keyOf(open)
    if (kept?.key !== key) kept = { key, study: studyOf(open, source) }
    const study = await kept.study
    if (!study.ok) {
      kept = null
      return study
    }
    const now = { ...withHead(study.value, open.study), madeAt: new Date().toISOString() }
    return fine(initials ? withInitials(now) : now)
  }
}

async function studyOf(open: OpenStudy, source: TellSource): Promise<Outcome<PublishedStudy>> {
  const gathered = await gatheredStudy(open, source)
  return gathered.ok ? fine(composedStudy(gathered.value)) : gathered
}

/** Readings never change: their ids stand for them. */
const keyOf = ({ study, variants, specimens, readings, recordings }: OpenStudy): string =>
  JSON.stringify([
    study.id,
    study.quantity,
    study.plan,
    variants,
    specimens,
    readings.map(({ id }) => id),
    recordings,
  ])

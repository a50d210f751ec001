import type { Outcome } from '../core/problem.ts'
import {
  type ComparedStudy,
  compareStudy as compare,
  type StudyComparison,
} from '../core/statistics/compare/compareStudy.ts'
import type { Comparison } from '../core/statistics/document.ts'
import { isPractice } from '../core/study.ts'
import type { RecordingEntry, Store, Study } from '../store/index.ts'

/** The variants of a kept study against one another. */
export async function compareStudy(
  store: Store,
  studyId: string,
  options: StudyComparison,
): Promise<Outcome<Comparison>> {
  const study = await store.studies.get(studyId)
  return study.ok ? compare(await comparedStudy(store, study.value), options) : study
}

/** A study of the store, as far as a comparison asks. */
export async function comparedStudy(store: Store, study: Study): Promise<ComparedStudy> {
  const recorded = await firstRecordings(store, study.id)
  return {
    study,
    variants: await store.variants.list(study.id),
    specimens: await store.specimens.list(study.id),
    readings: await store.readings.latestOfStudy(study.id),
    pulledAt: new Map(
      [...recorded].flatMap(([id, { startedAt }]): [string, string][] =>
        startedAt === null ? [] : [[id, startedAt]],
      ),
    ),
    practice: new Set([...recorded].flatMap(([id, entry]) => (isPractice(entry) ? [id] : []))),
  }
}

/** The first recording of each specimen of a study. */
export async function firstRecordings(store: Store, studyId: string): Promise<Map<string, RecordingEntry>> {
  const first = new Map<string, RecordingEntry>()
  let after: string | null = null
  do {
    const page: Awaited<ReturnType<Store['recordings']['list']>> = await store.recordings.list({
      studyId,
      limit: 1000,
      ...(after === null ? {} : { after }),
    })
    for (const entry of page.items) {
      const id = entry.specimen?.id ?? ''
      const known = first.get(id)
      if (!known || entry.place < known.place) first.set(id, entry)
    }
    after = page.next
  } while (after !== null)
  return first
}

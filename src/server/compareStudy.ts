import type { Outcome } from '../core/problem.ts'
import { compareStudy as compare, type StudyComparison } from '../core/statistics/compare/compareStudy.ts'
import type { Comparison } from '../core/statistics/document.ts'
import { isPractice } from '../core/study.ts'
import type { RecordingEntry, Store } from '../store/index.ts'

/** The variants of a kept study against one another. */
export async function compareStudy(
  store: Store,
  studyId: string,
  options: StudyComparison,
): Promise<Outcome<Comparison>> {
  const study = await store.studies.get(studyId)
  if (!study.ok) return study
  const recorded = await firstRecordings(store, studyId)
  return compare(
    {
      study: study.value,
      variants: await store.variants.list(studyId),
      specimens: await store.specimens.list(studyId),
      readings: await store.readings.latestOfStudy(studyId),
      pulledAt: new Map(
        [...recorded].flatMap(([id, { startedAt }]): [string, string][] =>
          startedAt === null ? [] : [[id, startedAt]],
        ),
      ),
      practice: new Set([...recorded].flatMap(([id, entry]) => (isPractice(entry) ? [id] : []))),
    },
    options,
  )
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

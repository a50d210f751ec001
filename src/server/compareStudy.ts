import type { Outcome, Problem } from '../core/problem.ts'
import {
  type ComparedStudy,
  compareStudy as compare,
  type StudyComparison,
} from '../core/statistics/compare/compareStudy.ts'
import type { Comparison } from '../core/statistics/document.ts'
import { isPractice } from '../core/study.ts'
import type { RecordingEntry, Specimen, Store, Study } from '../store/index.ts'
import { previewReading } from './specimenReading.ts'

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
  const specimens = await store.specimens.list(study.id)
  const readings = await store.readings.latestOfStudy(study.id)
  const read = new Set(readings.map(({ specimenId }) => specimenId))
  return {
    study,
    variants: await store.variants.list(study.id),
    specimens,
    readings,
    unread: await whyUnread(
      store,
      specimens.filter(({ id }) => recorded.has(id) && !read.has(id)),
    ),
    pulledAt: new Map(
      [...recorded].flatMap(([id, { startedAt }]): [string, string][] =>
        startedAt === null ? [] : [[id, startedAt]],
      ),
    ),
    practice: new Set([...recorded].flatMap(([id, entry]) => (isPractice(entry) ? [id] : []))),
  }
}

/** Why recorded specimens have no reading; one that can be read after all is no part of it. */
async function whyUnread(
  store: Store,
  specimens: readonly Specimen[],
): Promise<NonNullable<ComparedStudy['unread']>> {
  const unread: { name: string; problem: Problem }[] = []
  for (const { id, name } of specimens) {
    const read = await previewReading(store, id, [])
    if (!read.ok) unread.push({ name, problem: read.problems[0]! })
  }
  return unread
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

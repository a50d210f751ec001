import { fine, type Outcome, wrong } from '../../core/problem.ts'
import type { RecordingEntry, Specimen } from '../../store/index.ts'
import type { InStudy } from './inStudy.ts'

export interface DayFlags {
  readonly from?: string
  readonly to?: string
}

/** The recordings of these specimens, of all where none is named, that were begun within a range of days. */
export async function meantRecordings(
  { store, study }: InStudy,
  specimens: readonly Specimen[],
  days: DayFlags,
): Promise<Outcome<RecordingEntry[]>> {
  const ids = new Set(specimens.map(({ id }) => id))
  const { items } = await store.recordings.list({ studyId: study.id, limit: 100_000 })
  const meant = items.filter(
    entry => (ids.size === 0 || ids.has(entry.specimen?.id ?? '')) && isWithin(entry, days),
  )
  if (meant.length > 0) return fine(meant)
  return wrong({
    where: 'recordings',
    what: 'no recording is meant.',
    cure: 'Name others, or another range of days.',
  })
}

/** A recording whose day is not known is in no range of days. */
const isWithin = ({ startedAt }: RecordingEntry, { from, to }: DayFlags): boolean => {
  const day = startedAt?.slice(0, 10)
  return (
    (from === undefined || (day !== undefined && day >= from)) &&
    (to === undefined || (day !== undefined && day <= to))
  )
}

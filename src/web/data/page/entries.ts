import type { RecordingEntry, Specimen, Study } from '../../../server/apiTypes.ts'
import type { RecordingQuery } from '../backend.ts'
import { type KeptEntry, pageDb } from './db.ts'
import { inPlaces } from './rules.ts'

/** An entry with the names of its specimen and study, as they are now. */
export async function shown(entry: KeptEntry): Promise<RecordingEntry> {
  const db = await pageDb()
  const specimen = entry.specimenId === null ? undefined : await db.get('specimens', entry.specimenId)
  const study = specimen && (await db.get('studies', specimen.studyId))
  return withNames(entry, specimen, study)
}

const withNames = (
  { specimenId: _, ...entry }: KeptEntry,
  specimen: Specimen | undefined,
  study: Study | undefined,
): RecordingEntry => ({
  ...entry,
  // One that was kept before a capacity could be told.
  capacityN: entry.capacityN ?? null,
  // One that was kept before a calibration could be chosen.
  calibration: entry.calibration ?? null,
  specimen: specimen ? { id: specimen.id, name: specimen.name } : null,
  study: study ? { id: study.id, name: study.name } : null,
})

/** All that a query asks for, in the order of their places. */
export async function entriesOf(query: RecordingQuery): Promise<RecordingEntry[]> {
  const db = await pageDb()
  const words = (query.search ?? '').toLowerCase().split(/\s+/).filter(Boolean)
  const [entries, specimens, studies] = await Promise.all([
    db.getAll('recordings'),
    db.getAll('specimens').then(byId),
    db.getAll('studies').then(byId),
  ])
  const all = entries.map(entry => {
    const specimen = specimens.get(entry.specimenId ?? '')
    return withNames(entry, specimen, studies.get(specimen?.studyId ?? ''))
  })
  return inPlaces(
    all.filter(entry => {
      const said = [entry.name, entry.specimen?.name, entry.study?.name, entry.device, entry.id, entry.sha256]
      const text = said.join(' ').toLowerCase()
      return (
        (query.studyId === undefined || entry.study?.id === query.studyId) &&
        (query.specimenId === undefined || entry.specimen?.id === query.specimenId) &&
        (query.loose !== true || entry.specimen === null) &&
        (query.withSetAside === true || entry.setAside === null) &&
        words.every(word => text.includes(word))
      )
    }),
  )
}

const byId = <T extends { readonly id: string }>(all: readonly T[]): Map<string, T> =>
  new Map(all.map(one => [one.id, one]))

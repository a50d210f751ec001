import type { Db } from './common.ts'

interface Searched {
  readonly id: string
  readonly name: string
  readonly device: string
  readonly sha256: string
  readonly specimen_name: string | null
  readonly study_name: string | null
}

/** What a person would look a recording up by, in small letters: databases fold the case of plain letters only. */
export const searchText = (row: Searched): string =>
  [row.name, row.device, row.specimen_name ?? '', row.study_name ?? '', row.id, row.sha256]
    .join(' ')
    .toLowerCase()

/** Brings the text up to date of one recording, or of all of a specimen or a study whose name has changed. */
export async function refreshSearch(
  db: Db,
  of: { recordingId: string } | { specimenId: string } | { studyId: string } | 'all',
): Promise<void> {
  let query = db
    .selectFrom('recording')
    .innerJoin('placement', 'placement.recording_id', 'recording.id')
    .leftJoin('specimen', 'specimen.id', 'placement.specimen_id')
    .leftJoin('study', 'study.id', 'specimen.study_id')
    .select([
      'recording.id',
      'recording.name',
      'recording.device',
      'recording.sha256',
      'specimen.name as specimen_name',
      'study.name as study_name',
    ])
  if (of !== 'all') {
    if ('recordingId' in of) query = query.where('recording.id', '=', of.recordingId)
    else if ('specimenId' in of) query = query.where('placement.specimen_id', '=', of.specimenId)
    else query = query.where('specimen.study_id', '=', of.studyId)
  }
  for (const row of await query.execute())
    await db
      .updateTable('placement')
      .set({ search_text: searchText(row) })
      .where('recording_id', '=', row.id)
      .execute()
}

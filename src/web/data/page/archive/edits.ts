import type { Variant } from '../../../../server/apiTypes.ts'
import type { KeptEdit, KeptEntry, KeptRow, KeptSpecimen, RowChange } from '../db.ts'
import { placementRow, type Row, specimenOf, specimenRow, variantOf, variantRow } from './rows.ts'

/**
 * The history of changes in the archive: the rows before and after stand in it as the store’s tables have them, without
 * what the store makes by itself, so that an edit can be taken back wherever it is taken in.
 */

/** A change of a row as the store keeps it. */
interface StoredChange {
  readonly table: 'variant' | 'specimen' | 'placement'
  readonly id: string
  readonly before: Row | null
  readonly after: Row | null
}

const STORED = { variants: 'variant', specimens: 'specimen', recordings: 'placement' } as const
const KEPT = { variant: 'variants', specimen: 'specimens', placement: 'recordings' } as const

/** `entries`: the recordings by their id. No edit sets one aside: that is told as it is now. */
export const editRow = (edit: KeptEdit, entries: ReadonlyMap<string, KeptEntry>): Row => {
  const rowIn = ({ table, id }: RowChange, row: KeptRow | null): Row | null => {
    if (row === null) return null
    if (table === 'variants') return variantRow(row as unknown as Variant)
    if (table === 'specimens') {
      const { updated_at: _, ...said } = specimenRow(row as unknown as KeptSpecimen)
      return said
    }
    const entry = { ...(row as unknown as KeptEntry), id, setAside: entries.get(id)?.setAside ?? null }
    const { search_text: _, ...said } = placementRow(entry)
    return said
  }
  const changes = edit.changes.map(
    (change): StoredChange => ({
      table: STORED[change.table],
      id: change.id,
      before: rowIn(change, change.before),
      after: rowIn(change, change.after),
    }),
  )
  return {
    id: edit.id,
    study_id: edit.studyId,
    made_at: edit.madeAt,
    who: edit.who,
    what: edit.what,
    changes: JSON.stringify(changes),
    taken_back_at: edit.takenBackAt,
  }
}

export const editOf = (row: Row): KeptEdit => {
  const changes = JSON.parse(String(row.changes)) as readonly StoredChange[]
  return {
    id: String(row.id),
    studyId: String(row.study_id),
    madeAt: String(row.made_at),
    who: String(row.who),
    what: String(row.what),
    takenBackAt: row.taken_back_at == null ? null : String(row.taken_back_at),
    changes: changes.map(({ table, id, before, after }) => ({
      table: KEPT[table],
      id,
      before: keptRow(table, before),
      after: keptRow(table, after),
    })),
  }
}

function keptRow(table: StoredChange['table'], row: Row | null): KeptRow | null {
  if (row === null) return null
  if (table === 'variant') return { ...variantOf(row) }
  if (table === 'specimen') {
    const { updatedAt: _, ...said } = specimenOf(row)
    return { removedAt: null, ...said }
  }
  return {
    specimenId: row.specimen_id,
    place: row.place,
    rigId: row.rig_id,
    calibration: row.calibration ?? null,
  }
}

import type { Selectable } from 'kysely'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import type { Tables } from '../schema/tables.ts'
import type { Notes } from '../store.ts'
import type { StoredNote, Subject, SubjectKind } from '../types.ts'
import { changing, type Db, notThere, nowIso } from './common.ts'

const fromRow = (row: Selectable<Tables['note']>): StoredNote => ({
  id: row.id,
  subject: { kind: row.subject_kind as SubjectKind, id: row.subject_id },
  text: row.text,
  operator: row.operator,
  madeAt: row.made_at,
})

/** Whether what a note or a photo is about is there. */
export async function subjectThere(db: Db, { kind, id }: Subject): Promise<Outcome<null>> {
  const row = await db.selectFrom(kind).select('id').where('id', '=', id).executeTakeFirst()
  return row ? fine(null) : notThere(kind, id)
}

export const notes = ({ db }: Engine): Notes => ({
  async list({ kind, id }) {
    const rows = await db
      .selectFrom('note')
      .selectAll()
      .where('subject_kind', '=', kind)
      .where('subject_id', '=', id)
      .orderBy('made_at')
      .orderBy('id')
      .execute()
    return rows.map(fromRow)
  },
  add: (subject, text, operator = '', madeAt = nowIso()) =>
    changing(db, async trx => {
      const there = await subjectThere(trx, subject)
      if (!there.ok) return there
      const note = { id: newId(), subject, text, operator, madeAt }
      await trx
        .insertInto('note')
        .values({
          id: note.id,
          subject_kind: subject.kind,
          subject_id: subject.id,
          text,
          operator,
          made_at: note.madeAt,
        })
        .execute()
      return fine(note)
    }),
  remove: id =>
    changing(db, async trx => {
      const { numDeletedRows } = await trx.deleteFrom('note').where('id', '=', id).executeTakeFirstOrThrow()
      return numDeletedRows > 0n ? fine(null) : notThere('note', id)
    }),
})

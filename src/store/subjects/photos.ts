import { createHash } from 'node:crypto'
import { fine, wrong } from '../../core/problem.ts'
import { barePicture } from '../../logs/picture/barePicture.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import type { Photos } from '../store.ts'
import type { Photo, SubjectKind } from '../types.ts'
import { changing, type Db, notThere, nowIso } from './common.ts'
import { subjectThere } from './notes.ts'

const photoRows = (db: Db) =>
  db
    .selectFrom('photo')
    .select(['id', 'subject_kind', 'subject_id', 'name', 'caption', 'mime', 'sha256', 'added_at'])
    .select(eb => eb.fn<number>('length', ['bytes']).as('size'))

const fromRow = (row: Awaited<ReturnType<ReturnType<typeof photoRows>['execute']>>[number]): Photo => ({
  id: row.id,
  subject: { kind: row.subject_kind as SubjectKind, id: row.subject_id },
  name: row.name,
  caption: row.caption,
  mime: row.mime as Photo['mime'],
  sha256: row.sha256,
  bytes: Number(row.size),
  addedAt: row.added_at,
})

export const photos = ({ db }: Engine): Photos => ({
  async list({ kind, id }) {
    const rows = await photoRows(db)
      .where('subject_kind', '=', kind)
      .where('subject_id', '=', id)
      .orderBy('added_at')
      .orderBy('id')
      .execute()
    return rows.map(fromRow)
  },
  async add(subject, name, bytes, caption = '') {
    const bare = barePicture(bytes)
    if (!bare)
      return wrong({
        where: name,
        what: 'it is not a whole JPEG, PNG or WebP picture.',
        cure: 'Save it as one of these and add it again.',
      })
    return changing(db, async trx => {
      const there = await subjectThere(trx, subject)
      if (!there.ok) return there
      const id = newId()
      await trx
        .insertInto('photo')
        .values({
          id,
          subject_kind: subject.kind,
          subject_id: subject.id,
          name,
          caption,
          mime: bare.mime,
          sha256: createHash('sha256').update(bare.bytes).digest('hex'),
          bytes: bare.bytes,
          added_at: nowIso(),
        })
        .execute()
      return fine(fromRow(await photoRows(trx).where('id', '=', id).executeTakeFirstOrThrow()))
    })
  },
  async load(id) {
    const row = await photoRows(db).select('bytes').where('id', '=', id).executeTakeFirst()
    return row ? fine({ photo: fromRow(row), content: row.bytes }) : notThere('photo', id)
  },
  remove: id =>
    changing(db, async trx => {
      const { numDeletedRows } = await trx.deleteFrom('photo').where('id', '=', id).executeTakeFirstOrThrow()
      return numDeletedRows > 0n ? fine(null) : notThere('photo', id)
    }),
})

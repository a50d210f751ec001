import type { Selectable, Updateable } from 'kysely'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import type { Tables } from '../schema/tables.ts'
import type { Variants } from '../store.ts'
import type { Variant, VariantFields } from '../types.ts'
import { changedSince, changing, type Db, givenColumns, isThere, nameTaken, notThere } from './common.ts'
import { getStudy } from './studies.ts'

const BLANK: Omit<VariantFields, 'name'> = { control: false, elements: null, note: '' }

const fromRow = (row: Selectable<Tables['variant']>): Variant => ({
  id: row.id,
  studyId: row.study_id,
  name: row.name,
  place: row.place,
  control: row.is_control === 1,
  elements: row.elements,
  note: row.note,
})

type Changeable = VariantFields & { place: number }

const columnsOf = (fields: Partial<Changeable>) =>
  givenColumns<Changeable, Updateable<Tables['variant']>>(fields, {
    name: name => ({ name }),
    control: control => ({ is_control: control ? 1 : 0 }),
    elements: elements => ({ elements }),
    note: note => ({ note }),
    place: place => ({ place }),
  })

async function getVariant(db: Db, id: string): Promise<Outcome<Variant>> {
  const row = await db.selectFrom('variant').selectAll().where('id', '=', id).executeTakeFirst()
  return isThere(row) ? fine(fromRow(row)) : notThere('variant', id)
}

export async function variantNamed(db: Db, studyId: string, name: string): Promise<Variant | null> {
  const row = await db
    .selectFrom('variant')
    .selectAll()
    .where('study_id', '=', studyId)
    .where('name', '=', name)
    .executeTakeFirst()
  return isThere(row) ? fromRow(row) : null
}

export async function createVariant(
  db: Db,
  studyId: string,
  fields: Pick<VariantFields, 'name'> & Partial<VariantFields>,
): Promise<Outcome<Variant>> {
  const study = await getStudy(db, studyId)
  if (!study.ok) return study
  if (await variantNamed(db, studyId, fields.name)) return nameTaken('variant', fields.name)
  const { last } = await db
    .selectFrom('variant')
    .where('study_id', '=', studyId)
    .select(eb => eb.fn.max('place').as('last'))
    .executeTakeFirstOrThrow()
  const id = newId()
  const columns = columnsOf({
    ...BLANK,
    ...fields,
    place: last === null ? 0 : Number(last) + 1,
  }) as Tables['variant']
  await db
    .insertInto('variant')
    .values({ ...columns, id, study_id: studyId })
    .execute()
  return getVariant(db, id)
}

/** A variant has no time of its last change: the fields themselves, as they were seen, stand for it. */
const hasChangedSince = (now: Variant, seen: Partial<Changeable>): boolean =>
  (Object.keys(seen) as (keyof Changeable)[]).some(field => seen[field] !== now[field])

/** The others of the study make room, so that the order has no two in one place and counts from 0. */
async function putAt(db: Db, { id, studyId }: Variant, place: number): Promise<void> {
  const rows = await db
    .selectFrom('variant')
    .select('id')
    .where('study_id', '=', studyId)
    .where('id', '!=', id)
    .orderBy('place')
    .orderBy('name')
    .execute()
  const ids = rows.map(row => row.id).toSpliced(place, 0, id)
  for (const [at, one] of ids.entries())
    await db.updateTable('variant').set({ place: at }).where('id', '=', one).execute()
}

export const variants = ({ db }: Engine): Variants => ({
  async list(studyId) {
    const rows = await db
      .selectFrom('variant')
      .selectAll()
      .where('study_id', '=', studyId)
      .orderBy('place')
      .orderBy('name')
      .execute()
    return rows.map(fromRow)
  },
  get: id => getVariant(db, id),
  create: (studyId, fields) => changing(db, trx => createVariant(trx, studyId, fields)),
  update: (id, fields, basedOn = {}) =>
    changing(db, async trx => {
      const variant = await getVariant(trx, id)
      if (!variant.ok) return variant
      if (hasChangedSince(variant.value, basedOn)) return changedSince(`variant “${variant.value.name}”`)
      const sameName =
        fields.name === undefined ? null : await variantNamed(trx, variant.value.studyId, fields.name)
      if (sameName && sameName.id !== id) return nameTaken('variant', sameName.name)
      const { place, ...others } = fields
      const columns = columnsOf(others)
      if (Object.keys(columns).length > 0)
        await trx.updateTable('variant').set(columns).where('id', '=', id).execute()
      if (place !== undefined) await putAt(trx, variant.value, place)
      return getVariant(trx, id)
    }),
  remove: id =>
    changing(db, async trx => {
      const variant = await getVariant(trx, id)
      if (!variant.ok) return variant
      await trx.deleteFrom('variant').where('id', '=', id).execute()
      return fine(null)
    }),
})

import type { Selectable, Updateable } from 'kysely'
import { fine, type Outcome, wrong } from '../../core/problem.ts'
import { BLANK_STUDY } from '../../core/study.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import type { Tables } from '../schema/tables.ts'
import type { Studies } from '../store.ts'
import type { Study, StudyFields } from '../types.ts'
import {
  changedSince,
  changing,
  type Db,
  fromJson,
  givenColumns,
  isThere,
  laterThan,
  nameTaken,
  notThere,
  nowIso,
} from './common.ts'
import { refreshSearch } from './searchText.ts'

const fromRow = (row: Selectable<Tables['study']>): Study => ({
  id: row.id,
  name: row.name,
  question: row.question,
  failureModes: fromJson(row.failure_modes),
  quantity: row.quantity as Study['quantity'],
  elements: row.elements,
  plannedPerVariant: row.planned_per_variant,
  plan: row.plan === null ? null : fromJson(row.plan),
  method: row.method,
  tell: row.tell === null ? null : fromJson(row.tell),
  films: row.films === null ? null : fromJson(row.films),
  // Rows of earlier versions name no plural.
  equivalents: fromJson<Study['equivalents']>(row.equivalents).map(e => ({ ...e, plural: e.plural ?? '' })),
  archived: row.archived === 1,
  createdAt: row.created_at,
  updatedAt: row.updated_at,
})

const columnsOf = (fields: Partial<StudyFields>) =>
  givenColumns<StudyFields, Updateable<Tables['study']>>(fields, {
    name: name => ({ name }),
    question: question => ({ question }),
    failureModes: modes => ({ failure_modes: JSON.stringify(modes) }),
    quantity: quantity => ({ quantity }),
    elements: elements => ({ elements }),
    plannedPerVariant: planned_per_variant => ({ planned_per_variant }),
    plan: plan => ({ plan: plan === null ? null : JSON.stringify(plan) }),
    method: method => ({ method }),
    tell: tell => ({ tell: tell === null ? null : JSON.stringify(tell) }),
    films: films => ({ films: films === null ? null : JSON.stringify(films) }),
    equivalents: equivalents => ({ equivalents: JSON.stringify(equivalents) }),
    archived: archived => ({ archived: archived ? 1 : 0 }),
  })

export async function createStudy(
  db: Db,
  fields: Pick<StudyFields, 'name'> & Partial<StudyFields>,
): Promise<Outcome<Study>> {
  if (await studyNamed(db, fields.name)) return nameTaken('study', fields.name)
  const id = newId()
  const at = nowIso()
  const columns = columnsOf({ ...BLANK_STUDY, ...fields }) as Tables['study']
  await db
    .insertInto('study')
    .values({ ...columns, id, created_at: at, updated_at: at })
    .execute()
  return getStudy(db, id)
}

export async function getStudy(db: Db, id: string): Promise<Outcome<Study>> {
  const row = await db.selectFrom('study').selectAll().where('id', '=', id).executeTakeFirst()
  return isThere(row) ? fine(fromRow(row)) : notThere('study', id)
}

export async function studyNamed(db: Db, name: string): Promise<Study | null> {
  const row = await db.selectFrom('study').selectAll().where('name', '=', name).executeTakeFirst()
  return isThere(row) ? fromRow(row) : null
}

export const studies = ({ db }: Engine): Studies => ({
  async list() {
    return (
      await db.selectFrom('study').selectAll().orderBy('created_at', 'desc').orderBy('id').execute()
    ).map(fromRow)
  },
  get: id => getStudy(db, id),
  byName: name => studyNamed(db, name),
  create: fields => changing(db, trx => createStudy(trx, fields)),
  update: (id, fields, basedOn) =>
    changing(db, async trx => {
      const study = await getStudy(trx, id)
      if (!study.ok) return study
      if (basedOn !== undefined && basedOn !== study.value.updatedAt)
        return changedSince(`study “${study.value.name}”`)
      const sameName = fields.name === undefined ? null : await studyNamed(trx, fields.name)
      if (sameName && sameName.id !== id) return nameTaken('study', sameName.name)
      const lost =
        fields.failureModes && (await modesInUse(trx, id)).filter(m => !fields.failureModes?.includes(m))
      if (lost && lost.length > 0)
        return wrong({
          where: `study “${study.value.name}”`,
          what: `specimens have the failure mode “${lost.join('”, “')}”.`,
          cure: 'Give those specimens another mode first.',
        })
      await trx
        .updateTable('study')
        .set({ ...columnsOf(fields), updated_at: laterThan(study.value.updatedAt) })
        .where('id', '=', id)
        .execute()
      if (fields.name !== undefined) await refreshSearch(trx, { studyId: id })
      return getStudy(trx, id)
    }),
  remove: id =>
    changing(db, async trx => {
      const study = await getStudy(trx, id)
      if (!study.ok) return study
      const { count } = await trx
        .selectFrom('placement')
        .innerJoin('specimen', 'specimen.id', 'placement.specimen_id')
        .where('specimen.study_id', '=', id)
        .select(eb => eb.fn.countAll<number>().as('count'))
        .executeTakeFirstOrThrow()
      if (Number(count) > 0)
        return wrong({
          where: `study “${study.value.name}”`,
          what: `it has ${count} recordings, which are never deleted.`,
          cure: 'Archive the study instead.',
        })
      await trx.deleteFrom('study').where('id', '=', id).execute()
      return fine(null)
    }),
})

async function modesInUse(db: Db, studyId: string): Promise<string[]> {
  const rows = await db
    .selectFrom('specimen')
    .select('failure_mode')
    .distinct()
    .where('study_id', '=', studyId)
    .where('failure_mode', 'is not', null)
    .execute()
  return rows.map(row => row.failure_mode ?? '')
}

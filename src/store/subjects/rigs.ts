import type { Selectable } from 'kysely'
import { fine, type Outcome } from '../../core/problem.ts'
import type { Engine } from '../engine/engine.ts'
import { newId } from '../ids.ts'
import type { Tables } from '../schema/tables.ts'
import type { Calibrations, Checks, Rigs } from '../store.ts'
import type { DailyCheck, Rig, StoredCalibration } from '../types.ts'
import {
  changedSince,
  changing,
  type Db,
  fromJson,
  laterThan,
  nameTaken,
  notThere,
  nowIso,
} from './common.ts'

const rigOf = (row: Selectable<Tables['rig']>): Rig => ({
  id: row.id,
  name: row.name,
  document: fromJson(row.document),
  createdAt: row.created_at,
  updatedAt: row.updated_at,
})

async function getRig(db: Db, id: string): Promise<Outcome<Rig>> {
  const row = await db.selectFrom('rig').selectAll().where('id', '=', id).executeTakeFirst()
  return row ? fine(rigOf(row)) : notThere('rig', id)
}

const rigNamed = (db: Db, name: string) =>
  db.selectFrom('rig').select('id').where('name', '=', name).executeTakeFirst()

export const rigs = ({ db }: Engine): Rigs => ({
  async list() {
    return (await db.selectFrom('rig').selectAll().orderBy('name').execute()).map(rigOf)
  },
  get: id => getRig(db, id),
  create: ({ name, document }) =>
    changing(db, async trx => {
      if (await rigNamed(trx, name)) return nameTaken('rig', name)
      const id = newId()
      const at = nowIso()
      await trx
        .insertInto('rig')
        .values({ id, name, document: JSON.stringify(document), created_at: at, updated_at: at })
        .execute()
      return getRig(trx, id)
    }),
  update: (id, { name, document }, basedOn) =>
    changing(db, async trx => {
      const rig = await getRig(trx, id)
      if (!rig.ok) return rig
      if (basedOn !== undefined && basedOn !== rig.value.updatedAt)
        return changedSince(`rig “${rig.value.name}”`)
      const sameName = name === undefined ? undefined : await rigNamed(trx, name)
      if (name !== undefined && sameName && sameName.id !== id) return nameTaken('rig', name)
      await trx
        .updateTable('rig')
        .set({
          ...(name === undefined ? {} : { name }),
          ...(document === undefined ? {} : { document: JSON.stringify(document) }),
          updated_at: laterThan(rig.value.updatedAt),
        })
        .where('id', '=', id)
        .execute()
      return getRig(trx, id)
    }),
})

const calibrationOf = (row: Selectable<Tables['calibration']>): StoredCalibration => ({
  id: row.id,
  rigId: row.rig_id,
  madeAt: row.made_at,
  document: fromJson(row.document),
})

async function getCalibration(db: Db, id: string): Promise<Outcome<StoredCalibration>> {
  const row = await db.selectFrom('calibration').selectAll().where('id', '=', id).executeTakeFirst()
  return row ? fine(calibrationOf(row)) : notThere('calibration', id)
}

/** Added, never changed: a recording made under an old one goes on naming it. */
export const calibrations = ({ db }: Engine): Calibrations => ({
  async list(rigId) {
    let query = db.selectFrom('calibration').selectAll().orderBy('made_at', 'desc').orderBy('id')
    if (rigId !== undefined) query = query.where('rig_id', '=', rigId)
    return (await query.execute()).map(calibrationOf)
  },
  get: id => getCalibration(db, id),
  save: ({ rigId, madeAt, document }) =>
    changing(db, async trx => {
      const rig = rigId === null ? null : await getRig(trx, rigId)
      if (rig && !rig.ok) return rig
      const id = newId()
      await trx
        .insertInto('calibration')
        .values({
          id,
          rig_id: rigId,
          made_at: madeAt,
          document: JSON.stringify(document),
          added_at: nowIso(),
        })
        .execute()
      return getCalibration(trx, id)
    }),
})

const checkOf = (row: Selectable<Tables['daily_check']>): DailyCheck => ({
  id: row.id,
  rigId: row.rig_id,
  calibrationId: row.calibration_id,
  madeAt: row.made_at,
  document: fromJson(row.document),
})

export const checks = ({ db }: Engine): Checks => ({
  async list(rigId) {
    let query = db.selectFrom('daily_check').selectAll().orderBy('made_at', 'desc').orderBy('id')
    if (rigId !== undefined) query = query.where('rig_id', '=', rigId)
    return (await query.execute()).map(checkOf)
  },
  save: ({ rigId, calibrationId, madeAt, document }) =>
    changing(db, async trx => {
      const rig = rigId === null ? null : await getRig(trx, rigId)
      if (rig && !rig.ok) return rig
      const calibration = calibrationId === null ? null : await getCalibration(trx, calibrationId)
      if (calibration && !calibration.ok) return calibration
      const id = newId()
      await trx
        .insertInto('daily_check')
        .values({
          id,
          rig_id: rigId,
          calibration_id: calibrationId,
          made_at: madeAt,
          document: JSON.stringify(document),
          added_at: nowIso(),
        })
        .execute()
      return fine({ id, rigId, calibrationId, madeAt, document })
    }),
})

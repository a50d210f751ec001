import { fine } from '../../core/problem.ts'
import type { Engine } from '../engine/engine.ts'
import type { Settings } from '../store.ts'
import { changedSince, changing, type Db, fromJson } from './common.ts'

async function settingOf(db: Db, name: string): Promise<unknown> {
  const row = await db.selectFrom('setting').select('value').where('name', '=', name).executeTakeFirst()
  return row ? fromJson<unknown>(row.value) : null
}

/** Choices of the user that belong to the store: units, operator, the rig in use. */
export const settings = ({ db }: Engine): Settings => ({
  async all() {
    const rows = await db.selectFrom('setting').selectAll().orderBy('name').execute()
    return Object.fromEntries(rows.map(row => [row.name, fromJson<unknown>(row.value)]))
  },
  get: name => settingOf(db, name),
  set: (name, value, basedOn) =>
    changing(db, async trx => {
      if (basedOn !== undefined && JSON.stringify(basedOn) !== JSON.stringify(await settingOf(trx, name)))
        return changedSince(`setting “${name}”`)
      await trx.deleteFrom('setting').where('name', '=', name).execute()
      if (value !== null)
        await trx
          .insertInto('setting')
          .values({ name, value: JSON.stringify(value) })
          .execute()
      return fine(null)
    }),
})

import type { Engine } from '../engine/engine.ts'
import type { Settings } from '../store.ts'
import { fromJson } from './common.ts'

/** Choices of the user that belong to the store: units, operator, the rig in use. */
export const settings = ({ db }: Engine): Settings => ({
  async all() {
    const rows = await db.selectFrom('setting').selectAll().orderBy('name').execute()
    return Object.fromEntries(rows.map(row => [row.name, fromJson<unknown>(row.value)]))
  },
  async get(name) {
    const row = await db.selectFrom('setting').select('value').where('name', '=', name).executeTakeFirst()
    return row ? fromJson<unknown>(row.value) : null
  },
  async set(name, value) {
    await db.transaction().execute(async trx => {
      await trx.deleteFrom('setting').where('name', '=', name).execute()
      if (value !== null)
        await trx
          .insertInto('setting')
          .values({ name, value: JSON.stringify(value) })
          .execute()
    })
  },
})

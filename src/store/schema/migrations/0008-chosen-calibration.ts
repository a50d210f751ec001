import type { Kysely } from 'kysely'

/** Version 8: of a rig with several calibrations a person can choose the one that counts for a recording. */
export async function chosenCalibration(db: Kysely<unknown>): Promise<void> {
  await db.schema.alterTable('placement').addColumn('calibration', 'text').execute()
}

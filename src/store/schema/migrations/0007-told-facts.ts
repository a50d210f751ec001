import { type Kysely, sql } from 'kysely'

interface Typed {
  readonly recording: { readonly understood: string; readonly quantumN: number; readonly forceUnit: string }
  readonly results: { readonly peakForce: { readonly valueN: number } }
  readonly budget: readonly { readonly source: string; readonly standardN: number }[]
}

/**
 * Version 7: day and order of pulling can be told by a person, and a typed peak is kept as what was said of
 * its specimen, no longer only in the reading that was made from it.
 */
export async function toldFacts(db: Kysely<unknown>): Promise<void> {
  await db.schema.alterTable('specimen').addColumn('pulled_on', 'text').execute()
  await db.schema.alterTable('specimen').addColumn('pull_order', 'integer').execute()
  await db.schema.alterTable('specimen').addColumn('typed_peak', 'text').execute()
  const { rows } = await sql<{ specimen_id: string; document: string }>`
    select specimen_id, document from reading where specimen_id is not null order by made_at, id`.execute(db)
  const newest = new Map(rows.map(row => [row.specimen_id, row.document]))
  for (const [id, document] of newest) {
    if (!document.includes('"code":"typed"')) continue
    const peak = peakOf(JSON.parse(document) as Typed)
    await sql`update specimen set typed_peak = ${JSON.stringify(peak)} where id = ${id}`.execute(db)
  }
}

function peakOf({ recording, results, budget }: Typed) {
  const said = /^typed by (.*): (at least )?(\S+) \S+$/s.exec(recording.understood)
  const value = Number(said?.[3])
  const perN = value / results.peakForce.valueN
  const scale = budget.find(({ source }) => source === 'scale')
  const inUnit = (valueN: number): number => Number((valueN * perN).toPrecision(12))
  return {
    value,
    unit: recording.forceUnit,
    isAtLeast: said?.[2] !== undefined,
    step: recording.quantumN === 0 ? null : inUnit(recording.quantumN),
    doubt: scale === undefined ? null : inUnit(scale.standardN * 1.959963984540054),
    who: said?.[1] ?? '',
  }
}

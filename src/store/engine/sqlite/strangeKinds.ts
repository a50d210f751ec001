import type { Connection } from './database.ts'

/**
 * What a value may be, by the declared type of its column: SQLite itself refuses none (documentation,
 * “Datatypes”).
 */
const MAY_BE: Readonly<Record<string, string>> = {
  text: "'text', 'null'",
  integer: "'integer', 'null'",
  real: "'real', 'integer', 'null'",
  'double precision': "'real', 'integer', 'null'",
  blob: "'blob', 'null'",
}

/**
 * Values that are not of the kind that their column was made for: what was written there is no longer what
 * stands there.
 */
export function strangeKinds(raw: Connection): string[] {
  const tables = raw
    .prepare("select name from sqlite_master where type = 'table' and sql not like 'create virtual%'")
    .all() as { name: string }[]
  return tables.flatMap(({ name: table }) => {
    const columns = raw.prepare(`select name, type from pragma_table_info('${table}')`).all() as {
      name: string
      type: string
    }[]
    return columns.flatMap(({ name, type }) => {
      const kinds = MAY_BE[type.toLowerCase()]
      if (kinds === undefined) return []
      try {
        const { n } = raw
          .prepare(`select count(*) as n from "${table}" where typeof("${name}") not in (${kinds})`)
          .get() as { n: number }
        return n > 0 ? [`${n} rows of ${table} have a damaged ${name}: it is no ${type.toLowerCase()}`] : []
      } catch {
        return [`the table ${table} cannot be read through for its ${name}`]
      }
    })
  })
}

import type { Kysely, Transaction } from 'kysely'
import { printable } from '../../core/printable.ts'
import { type Outcome, type Problem, wrong } from '../../core/problem.ts'
import { StoreFault } from '../fault.ts'
import type { Tables } from '../schema/tables.ts'

/** The SQL builder, within a transaction or not. */
export type Db = Kysely<Tables> | Transaction<Tables>

export const nowIso = (): string => new Date().toISOString()

/** Now, but after `before`: two changes within one millisecond still differ, whatever the clock does. */
export const laterThan = (before: string): string => {
  const now = nowIso()
  return now > before ? now : new Date(Date.parse(before) + 1).toISOString()
}

export const isThere = <T>(row: T | undefined): row is T => row !== undefined

/** JSON text of a column; documents are kept as text so that every engine gives back the same. */
export function fromJson<T>(text: string): T {
  try {
    return JSON.parse(text) as T
  } catch (error) {
    throw new StoreFault(
      {
        where: 'the store',
        what: `a document in it is damaged (it begins ${printable(String(text).slice(0, 40))}).`,
        cure: '`tenterhook verify` tells which; then restore the last backup with `tenterhook restore`.',
      },
      error,
    )
  }
}

export const notThere = (
  kind: string,
  id: string,
): { readonly ok: false; readonly problems: readonly Problem[] } =>
  wrong({
    where: `${kind} “${printable(id, 64)}”`,
    what: `there is no such ${kind} in the store.`,
    cure: 'Look it up in the list.',
  })

export const nameTaken = (kind: string, name: string) =>
  wrong({
    where: `${kind} “${printable(name)}”`,
    what: `there is a ${kind} of this name already.`,
    cure: 'Choose another name.',
  })

/** Refused, with nothing written, as what was to be changed is no more what the caller saw. */
export interface Stale {
  readonly ok: false
  readonly problems: readonly Problem[]
  readonly isStale: true
}

export const changedSince = (what: string): Stale => ({
  ...wrong({
    where: what,
    what: 'it was changed elsewhere after it was opened here, so nothing was written.',
    cure: 'Look at what it is now, then change it again.',
  }),
  isStale: true,
})

/** Only the given fields, each turned into its column. `undefined` is a field that was not given. */
export function givenColumns<F extends object, C>(
  fields: Partial<F>,
  columns: { [K in keyof F]-?: (value: F[K]) => Partial<C> },
): Partial<C> {
  const row: Partial<C> = {}
  for (const key of Object.keys(columns) as (keyof F)[]) {
    const value = fields[key]
    if (value !== undefined) Object.assign(row, columns[key](value as F[typeof key]))
  }
  return row
}

class Undone extends Error {
  readonly outcome: { readonly ok: false; readonly problems: readonly Problem[] }

  constructor(outcome: { readonly ok: false; readonly problems: readonly Problem[] }) {
    super('undone')
    this.outcome = outcome
  }
}

/** A change in one transaction: all of it, or nothing when it comes to a problem or the program is killed. */
export async function changing<T>(
  db: Kysely<Tables>,
  change: (trx: Transaction<Tables>) => Promise<Outcome<T>>,
): Promise<Outcome<T>> {
  try {
    return await db.transaction().execute(async trx => {
      const outcome = await change(trx)
      if (!outcome.ok) throw new Undone(outcome)
      return outcome
    })
  } catch (error) {
    if (error instanceof Undone) return error.outcome
    throw error
  }
}

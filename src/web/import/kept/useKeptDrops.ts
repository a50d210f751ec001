import { type Dispatch, useEffect, useMemo, useRef, useState } from 'react'
import { faultText } from '../../../core/problem.ts'
import type { ImportAction, ImportState } from '../importState.ts'
import { stateFrom, tableOf } from './table.ts'

/** What was set aside in the browser: nothing yet, as it is on the table, or not, and why. */
export type Aside =
  | { readonly state: 'looking' }
  /** `restored`: logs that were there when the page was opened. */
  | { readonly state: 'kept'; readonly restored: number }
  | { readonly state: 'failed'; readonly why: string }

/** Sets aside what lies on the table, so that a reload, or a window that is closed, loses none of it. */
export function useKeptDrops(state: ImportState, dispatch: Dispatch<ImportAction>): Aside {
  const [name, setName] = useState<string | null>(null)
  const [aside, setAside] = useState<Aside>({ state: 'looking' })
  const writes = useRef<Promise<void>>(Promise.resolve())

  useEffect(() => {
    let isOver = false
    const restore = async () => {
      const { readTable, tableNames } = await import('./tablesDb.ts')
      const { ownTable } = await import('./ownTable.ts')
      const own = await ownTable(await tableNames())
      const kept = await readTable(own)
      if (isOver) return
      if (kept) dispatch({ type: 'restored', state: stateFrom(kept.table, kept.files) })
      setAside({ state: 'kept', restored: kept?.table.items.length ?? 0 })
      setName(own)
    }
    restore().catch((error: unknown) => !isOver && setAside({ state: 'failed', why: faultText(error) }))
    return () => {
      isOver = true
    }
  }, [dispatch])

  const table = useMemo(() => tableOf(state), [state])
  const key = JSON.stringify(table)
  const latest = useRef({ table, items: state.items })
  latest.current = { table, items: state.items }
  useEffect(() => {
    if (name === null) return
    const { table: wanted, items } = latest.current
    // What was found by looking at a log is not in the key: it is found again.
    if (JSON.stringify(wanted) !== key) return
    const ids = new Set(wanted?.items.map(({ id }) => id))
    const files = new Map(items.flatMap(({ id, file }) => (ids.has(id) ? [[id, file] as const] : [])))
    writes.current = writes.current.then(async () => {
      try {
        const { writeTable } = await import('./tablesDb.ts')
        await writeTable(name, wanted, files)
        setAside(was => (was.state === 'kept' && wanted ? was : { state: 'kept', restored: 0 }))
      } catch (error) {
        setAside({ state: 'failed', why: faultText(error) })
      }
    })
  }, [name, key])
  return aside
}

import { type Dispatch, useEffect } from 'react'
import { useBench } from '../app/context.tsx'
import { problemsOf } from '../data/trouble.ts'
import type { ImportAction, ImportState } from './importState.ts'
import { sortFiles } from './sortFiles.ts'

/** Tells dropped files apart, and looks at each log in the engine's thread, one after another. */
export function useLooking(state: ImportState, dispatch: Dispatch<ImportAction>): void {
  const { backend, engine } = useBench()
  const { incoming } = state
  useEffect(() => {
    if (incoming.length === 0) return
    let gone = false
    void sortFiles(incoming).then(found => {
      if (!gone) dispatch({ type: 'sorted', of: incoming, found })
    })
    return () => {
      gone = true
    }
  }, [incoming, dispatch])

  const next = state.items.find(item => item.stale)
  const { id, file, options } = next ?? {}
  useEffect(() => {
    if (id === undefined || !file || !options) return
    let gone = false
    const look = async () => {
      const looked = await engine.preview(file, file.name, options)
      if (!looked.ok) return { look: null, known: null, problems: looked.problems }
      // A server that is away holds up no look: keeping asks again, and keeps nothing twice.
      const known = await backend.recordings.bySha256(looked.value.sha256).catch(() => null)
      return { look: looked.value, known, problems: [] }
    }
    look()
      .catch((error: unknown) => ({ look: null, known: null, problems: problemsOf(error) }))
      .then(found => {
        if (!gone) dispatch({ type: 'looked', id, options, ...found })
      })
    return () => {
      gone = true
    }
  }, [id, file, options, backend, engine, dispatch])
}

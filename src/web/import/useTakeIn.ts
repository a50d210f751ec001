import { useCallback } from 'react'
import { useBench } from '../app/context.tsx'
import { useFoot } from '../app/undo.tsx'
import type { OpenStudy } from '../data/backend.ts'
import { useRefresh } from '../data/queries.ts'
import { texts } from '../texts/index.ts'
import { countLogs, type ImportPlan } from './importPlan.ts'
import { useLogs } from './LogsProvider.tsx'
import { takeIn } from './takeIn.ts'

/** Takes in what the plan says, with progress, a stop, and a way back. */
export function useTakeIn(plan: ImportPlan, open: OpenStudy | null): () => Promise<void> {
  const { backend } = useBench()
  const { state, dispatch, setRun, stopped } = useLogs()
  const changed = useRefresh()
  const foot = useFoot()
  const { study, rigId, tables } = state
  return useCallback(async () => {
    const all = countLogs(plan.goingIn)
    let done = 0
    stopped.current = false
    setRun({ state: 'running', done, all, name: '' })
    try {
      const result = await takeIn(
        backend,
        {
          study,
          open,
          groups: plan.goingIn,
          rigId,
          checked: tables.flatMap(({ checked }) => checked ?? []),
          told: tables.flatMap(({ told }) => told ?? []),
          undoWhy: texts.import.undoWhy,
        },
        {
          log(item, kept, problems) {
            dispatch({ type: 'keeping', id: item.id, kept, problems })
            if (kept === 'now') setRun({ state: 'running', done, all, name: item.file.name })
            else done++
          },
          stopped: () => stopped.current,
        },
      )
      dispatch({ type: 'study', study: { ...study, id: result.study.id } })
      await changed()
      setRun({ state: 'ended', result })
      if (result.kept > 0)
        foot.did(texts.import.did(result.kept, result.study.name), async () => {
          // First off the screen: a study that is made away with is not to be asked for again.
          dispatch({ type: 'cleared' })
          setRun({ state: 'not-begun' })
          await result.undo()
          await changed()
        })
    } catch (error) {
      setRun({ state: 'failed', error })
      await changed()
    }
  }, [backend, changed, dispatch, foot, open, plan, rigId, setRun, stopped, study, tables])
}

import { createContext, type ReactNode, useContext, useEffect, useMemo, useRef, useState } from 'react'
import { useFoot } from '../app/undo.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { type TaskRunner, type TaskState, taskRunner, type Work } from './taskRunner.ts'
import type { TellingThread } from './useTelling.ts'

const t = texts.tell

interface Tasks extends TaskState, Pick<TaskRunner, 'run'> {
  stop(): void
}

const TasksContext = createContext<Tasks | null>(null)

/**
 * What is being made just now. `thread` makes it: where it breaks, what it was at has failed; to stop what it is at it is
 * ended, and another one started.
 */
export function TasksProvider({ thread, children }: { thread: TellingThread; children: ReactNode }) {
  const foot = useFoot()
  const [state, setState] = useState<TaskState>({ running: null, failed: null })
  const say = useRef(foot.say)
  say.current = foot.say
  const runner = useMemo(() => taskRunner(setState, () => say.current(t.stopped)), [])
  const { restart, broken } = thread
  useEffect(() => {
    if (broken !== null && runner.fail(broken)) restart()
  }, [broken, runner, restart])
  const tasks = useMemo<Tasks>(
    () => ({
      ...state,
      run: runner.run,
      stop() {
        runner.stop()
        restart()
      },
    }),
    [state, runner, restart],
  )
  return <TasksContext value={tasks}>{children}</TasksContext>
}

export function useTasks(): Tasks {
  const tasks = useContext(TasksContext)
  if (!tasks) throw new Error('useTasks was called outside TasksProvider')
  return tasks
}

/**
 * A button that makes something. While it is made, a way to stop stands beside it, and after that how far it is: words
 * that change their width must not move a button that is about to be pressed.
 */
export function TaskButton({
  name,
  work,
  isMain = false,
  disabled = false,
  children,
}: {
  /** Unique in the place. */
  name: string
  work: Work
  isMain?: boolean
  disabled?: boolean
  children: ReactNode
}) {
  const { running, run, stop } = useTasks()
  const own = running?.key === name ? running : null
  return (
    <span className="row tell-task">
      <button
        type="button"
        className={isMain ? 'button button-main' : 'button'}
        disabled={disabled || running !== null}
        onClick={() => run(name, work)}
      >
        {children}
      </button>
      {own && (
        <>
          <button type="button" className="button" onClick={stop}>
            {t.stop}
          </button>
          <span role="status" className="pencil">
            {own.all > 0 ? (
              <>
                <progress max={own.all} value={own.done} aria-label={t.working} />{' '}
                {t.share(own.done, own.all)}
              </>
            ) : (
              t.working
            )}
          </span>
        </>
      )}
    </span>
  )
}

/** What went wrong in a part, beside its buttons: those whose names begin so. */
export function TaskTrouble({ of }: { of: string }) {
  const { failed } = useTasks()
  return failed?.key.startsWith(of) ? <Problems error={failed.error} /> : null
}

import { createContext, type ReactNode, useContext, useMemo, useRef, useState } from 'react'
import { useFoot } from '../app/undo.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'

const t = texts.tell

interface Running {
  readonly key: string
  readonly done: number
  /** 0: not known. */
  readonly all: number
}

type Work = (on: {
  readonly signal: AbortSignal
  readonly onProgress: (done: number, all: number) => void
}) => Promise<void>

interface Tasks {
  readonly running: Running | null
  readonly failed: { readonly key: string; readonly error: unknown } | null
  /** One at a time; while one runs, `run` does nothing. */
  run(key: string, work: Work): void
  stop(): void
}

const TasksContext = createContext<Tasks | null>(null)

/** What is being made just now. `onStop` ends the thread that makes it. */
export function TasksProvider({ onStop, children }: { onStop: () => void; children: ReactNode }) {
  const foot = useFoot()
  const [running, setRunning] = useState<Running | null>(null)
  const [failed, setFailed] = useState<Tasks['failed']>(null)
  const controller = useRef<AbortController | null>(null)
  const tasks = useMemo<Tasks>(
    () => ({
      running,
      failed,
      run(key, work) {
        if (controller.current) return
        const own = new AbortController()
        controller.current = own
        setFailed(null)
        setRunning({ key, done: 0, all: 0 })
        const onProgress = (done: number, all: number) => {
          if (!own.signal.aborted) setRunning({ key, done, all })
        }
        // A thread that was ended never answers: stopping is an answer too.
        const stopped = new Promise<never>((_, reject) =>
          own.signal.addEventListener('abort', () => reject(own.signal.reason)),
        )
        Promise.race([work({ signal: own.signal, onProgress }), stopped])
          .catch((error: unknown) => {
            if (own.signal.aborted) foot.say(t.stopped)
            else setFailed({ key, error })
          })
          .finally(() => {
            controller.current = null
            setRunning(null)
          })
      },
      stop() {
        controller.current?.abort()
        onStop()
      },
    }),
    [running, failed, foot, onStop],
  )
  return <TasksContext value={tasks}>{children}</TasksContext>
}

export function useTasks(): Tasks {
  const tasks = useContext(TasksContext)
  if (!tasks) throw new Error('useTasks was called outside TasksProvider')
  return tasks
}

/** A button that makes something; while it is made, how far it is stands beside it with a way to stop. */
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
          <button type="button" className="button" onClick={stop}>
            {t.stop}
          </button>
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

export interface Running {
  readonly key: string
  readonly done: number
  /** 0: not known. */
  readonly all: number
}

export interface TaskState {
  readonly running: Running | null
  readonly failed: { readonly key: string; readonly error: unknown } | null
}

export type Work = (on: {
  readonly signal: AbortSignal
  readonly onProgress: (done: number, all: number) => void
}) => Promise<void>

export interface TaskRunner {
  /** One at a time: while one runs, `run` does nothing. */
  run(key: string, work: Work): void
  /** Ends what runs, if anything does. */
  stop(): void
  /** What runs can never end: it has failed. Whether anything ran. */
  fail(error: unknown): boolean
}

interface Task {
  readonly abort: AbortController
  fail(error: unknown): void
}

const IDLE: TaskState = { running: null, failed: null }

/**
 * Runs one task at a time and tells how far it is. A task ends once: when its work does, when it is stopped, or when the
 * thread that does it dies. What still comes of it afterwards is nobody's: its progress comes by another way than its
 * result, and the last of it may come later.
 */
export function taskRunner(onState: (state: TaskState) => void, onStopped: () => void): TaskRunner {
  let current: Task | null = null
  return {
    run(key, work) {
      if (current !== null) return
      const abort = new AbortController()
      let fail: (error: unknown) => void = () => {}
      const cut = new Promise<never>((_, reject) => {
        fail = reject
      })
      // A thread that was ended never answers: stopping is an answer too.
      abort.signal.addEventListener('abort', () => fail(abort.signal.reason))
      const own: Task = { abort, fail }
      current = own
      onState({ running: { key, done: 0, all: 0 }, failed: null })
      const onProgress = (done: number, all: number): void => {
        if (current === own) onState({ running: { key, done, all }, failed: null })
      }
      const end = (state: TaskState): void => {
        current = null
        onState(state)
      }
      Promise.race([work({ signal: abort.signal, onProgress }), cut]).then(
        () => end(IDLE),
        (error: unknown) => {
          end(abort.signal.aborted ? IDLE : { running: null, failed: { key, error } })
          if (abort.signal.aborted) onStopped()
        },
      )
    },
    stop() {
      current?.abort.abort()
    },
    fail(error) {
      current?.fail(error)
      return current !== null
    },
  }
}

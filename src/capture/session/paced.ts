import { letExit } from '../letExit.ts'

export interface Paced {
  /** There is something to do. */
  ask(): void
  stop(): void
}

/**
 * Does `work` at once where it was last done at least `everyMs` ago, else as soon as that is so, however
 * often it is asked for: what comes after a pause waits for nothing.
 */
export function paced(work: () => void, everyMs: number): Paced {
  let doneMs = Number.NEGATIVE_INFINITY
  let timer: ReturnType<typeof setTimeout> | null = null
  const run = (): void => {
    timer = null
    doneMs = performance.now()
    work()
  }
  return {
    ask() {
      if (timer !== null) return
      const waitMs = doneMs + everyMs - performance.now()
      if (waitMs <= 0) run()
      else {
        timer = setTimeout(run, waitMs)
        letExit(timer)
      }
    },
    stop() {
      if (timer !== null) clearTimeout(timer)
      timer = null
    },
  }
}

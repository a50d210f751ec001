import type { Problem } from '../../core/problem.ts'
import type { SourceListener } from '../source.ts'

/** Pause before a lost line is tried again. */
const AGAIN_MS = 500

/** How one opening of a line went. */
export type Ended =
  /** It could not be opened. */
  | { readonly how: 'not-opened'; readonly problem: Problem }
  /** It was open, and went away by itself. */
  | { readonly how: 'lost'; readonly problem: Problem }
  | { readonly how: 'stopped' }

/**
 * Opens a line, and opens it again whenever it is lost, until `stop` fires. Gives the problem where the first
 * opening fails. `open` resolves when the line has come to an end, whichever way.
 */
export async function keepOpen(
  open: () => Promise<Ended>,
  listener: SourceListener,
  stop: AbortSignal,
): Promise<Problem | null> {
  let everOpen = false
  while (!stop.aborted) {
    const ended = await open()
    if (ended.how === 'stopped') return null
    if (ended.how === 'not-opened' && !everOpen) return ended.problem
    if (ended.how === 'lost') {
      everOpen = true
      listener.lost(ended.problem)
    }
    await pause(AGAIN_MS, stop)
  }
  return null
}

export const pause = (ms: number, stop: AbortSignal): Promise<void> =>
  new Promise(resolve => {
    if (stop.aborted) return resolve()
    const done = (): void => {
      clearTimeout(timer)
      stop.removeEventListener('abort', done)
      resolve()
    }
    const timer = setTimeout(done, ms)
    stop.addEventListener('abort', done)
  })

import { useEffect, useRef, useState } from 'react'

export interface Latest<T> {
  /** The last that came; it stays while the next is on its way. */
  readonly data: T | undefined
  readonly error: unknown
  readonly isBusy: boolean
}

/**
 * Asks a thread again whenever `key` changes. While an answer is on its way only the newest wish waits, so that a page
 * that is written in does not queue up pages. `thread`: the one that is asked; another one begins anew, `null` waits.
 */
export function useLatest<T>(thread: unknown, key: string, ask: () => Promise<T>): Latest<T> {
  const [state, setState] = useState<Latest<T>>({ data: undefined, error: null, isBusy: true })
  const newest = useRef(ask)
  newest.current = ask
  const asker = useRef<ReturnType<typeof latestOnly<T>> | null>(null)
  useEffect(() => {
    if (thread === null) return
    const made = latestOnly<T>(() => newest.current(), setState)
    asker.current = made
    return made.end
  }, [thread])
  useEffect(() => {
    if (thread !== null && key !== '') asker.current?.ask()
  }, [thread, key])
  return state
}

function latestOnly<T>(ask: () => Promise<T>, put: (change: (was: Latest<T>) => Latest<T>) => void) {
  let isWaiting = false
  let isAsking = false
  let hasEnded = false
  async function run(): Promise<void> {
    isAsking = true
    put(was => ({ ...was, isBusy: true }))
    let next: Partial<Latest<T>>
    try {
      next = { data: await ask(), error: null }
    } catch (error) {
      next = { error }
    }
    isAsking = false
    if (hasEnded) return
    put(was => ({ ...was, ...next, isBusy: isWaiting }))
    if (!isWaiting) return
    isWaiting = false
    await run()
  }
  return {
    ask() {
      if (isAsking) isWaiting = true
      else void run()
    },
    end() {
      hasEnded = true
    },
  }
}

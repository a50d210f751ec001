import { proxy, wrap } from 'comlink'
import { useCallback, useEffect, useRef, useState } from 'react'
import { useBench } from '../app/context.tsx'
import type { OnProgress, Telling, ToPng } from './worker/types.ts'

export interface TellingThread {
  /** `null` for the moment before the thread is there. */
  readonly telling: Telling | null
  /** Ends whatever the thread is at, and starts another. */
  readonly restart: () => void
  /** What the thread met that it may never get over; `null` while all is well. */
  readonly broken: Error | null
}

/** The thread that makes what is taken away; it lives as long as the place is open. */
export function useTelling(): TellingThread {
  const { openTelling } = useBench()
  const thread = useRef<Worker | null>(null)
  const [telling, setTelling] = useState<Telling | null>(null)
  const [broken, setBroken] = useState<Error | null>(null)
  const restart = useCallback(() => {
    thread.current?.terminate()
    const started = openTelling()
    thread.current = started
    const breaks = (event: Event) => {
      if (thread.current === started) setBroken(new Error(brokenBy(event)))
    }
    started.addEventListener('error', breaks)
    started.addEventListener('messageerror', breaks)
    setBroken(null)
    const served = wrap<Telling>(started) as unknown as Telling
    setTelling(() => served)
  }, [openTelling])
  useEffect(() => {
    restart()
    return () => {
      thread.current?.terminate()
      thread.current = null
    }
  }, [restart])
  return { telling, restart, broken }
}

/** A thread that cannot be loaded says nothing of why. */
const brokenBy = (event: Event): string =>
  event instanceof ErrorEvent && event.message !== ''
    ? `the thread that makes files met: ${event.message}`
    : 'the thread that makes files could not go on'

/** A callback that the thread may call. */
export const called = <T extends OnProgress | ToPng>(callback: T): T => proxy(callback)

import { proxy, wrap } from 'comlink'
import { useCallback, useEffect, useRef, useState } from 'react'
import { useBench } from '../app/context.tsx'
import type { OnProgress, Telling, ToPng } from './worker/types.ts'

export interface TellingThread {
  /** `null` for the moment before the thread is there. */
  readonly telling: Telling | null
  /** Ends whatever the thread is at, and starts another. */
  readonly restart: () => void
}

/** The thread that makes what is taken away; it lives as long as the place is open. */
export function useTelling(): TellingThread {
  const { openTelling } = useBench()
  const thread = useRef<Worker | null>(null)
  const [telling, setTelling] = useState<Telling | null>(null)
  const restart = useCallback(() => {
    thread.current?.terminate()
    thread.current = openTelling()
    const served = wrap<Telling>(thread.current) as unknown as Telling
    setTelling(() => served)
  }, [openTelling])
  useEffect(() => {
    restart()
    return () => {
      thread.current?.terminate()
      thread.current = null
    }
  }, [restart])
  return { telling, restart }
}

/** A callback that the thread may call. */
export const called = <T extends OnProgress | ToPng>(callback: T): T => proxy(callback)

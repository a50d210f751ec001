import { useEffect, useRef, useState } from 'react'
import { useBench } from '../app/context.tsx'
import { got } from '../data/trouble.ts'
import type { Engine, Look, LookAt } from '../engine/types.ts'

export interface LookState {
  /** The last that came, with what it was asked for; it stays while the next is on its way. */
  readonly shown: { readonly look: Look; readonly at: LookAt } | null
  readonly error: unknown
  readonly isBusy: boolean
}

interface Answered extends Omit<LookState, 'isBusy'> {
  /** What was asked for last, as it was named. */
  readonly key: string | null
}

const EMPTY: Answered = { shown: null, error: null, key: null }

/**
 * A reading from the engine's thread. While one is on its way only the latest wish waits: a zero that is dragged asks
 * for the next reading as soon as the one before is there, and for none in between.
 */
export function useLook(at: LookAt | null): LookState {
  const { engine } = useBench()
  const [{ shown, error, key: answered }, setAnswered] = useState(EMPTY)
  const asker = useRef<ReturnType<typeof latestOnly> | null>(null)
  const key = at === null ? null : JSON.stringify(at)
  useEffect(() => {
    const made = latestOnly(engine, setAnswered)
    asker.current = made
    return made.end
  }, [engine])
  useEffect(() => {
    if (key !== null) asker.current?.ask(key)
  }, [key])
  return { shown, error, isBusy: key === null || key !== answered }
}

function latestOnly(engine: Engine, put: (change: (was: Answered) => Answered) => void) {
  let waiting: string | null = null
  let isAsking = false
  let hasEnded = false
  async function run(key: string): Promise<void> {
    isAsking = true
    let next: Partial<Answered>
    try {
      const at = JSON.parse(key) as LookAt
      next = { shown: { look: got(await engine.look(at)), at }, error: null }
    } catch (error) {
      next = { error }
    }
    isAsking = false
    if (hasEnded) return
    const wish = waiting
    waiting = null
    put(was => ({ ...was, ...next, key }))
    if (wish !== null) void run(wish)
  }
  return {
    ask(key: string) {
      if (isAsking) waiting = key
      else void run(key)
    },
    end() {
      hasEnded = true
    },
  }
}

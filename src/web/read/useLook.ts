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

const EMPTY: LookState = { shown: null, error: null, isBusy: true }

/**
 * A reading from the engine's thread. While one is on its way only the latest wish waits: a zero that is dragged asks
 * for the next reading as soon as the one before is there, and for none in between.
 */
export function useLook(at: LookAt | null): LookState {
  const { engine } = useBench()
  const [state, setState] = useState(EMPTY)
  const asker = useRef<ReturnType<typeof latestOnly> | null>(null)
  const key = at === null ? null : JSON.stringify(at)
  useEffect(() => {
    const made = latestOnly(engine, setState)
    asker.current = made
    return made.end
  }, [engine])
  useEffect(() => {
    if (key !== null) asker.current?.ask(JSON.parse(key) as LookAt)
  }, [key])
  return state
}

function latestOnly(engine: Engine, put: (change: (was: LookState) => LookState) => void) {
  let waiting: LookAt | null = null
  let isAsking = false
  let hasEnded = false
  async function run(at: LookAt): Promise<void> {
    isAsking = true
    put(was => ({ ...was, isBusy: true }))
    let next: Partial<LookState>
    try {
      next = { shown: { look: got(await engine.look(at)), at }, error: null }
    } catch (error) {
      next = { error }
    }
    isAsking = false
    if (hasEnded) return
    const wish = waiting
    waiting = null
    put(was => ({ ...was, ...next, isBusy: wish !== null }))
    if (wish) void run(wish)
  }
  return {
    ask(at: LookAt) {
      if (isAsking) waiting = at
      else void run(at)
    },
    end() {
      hasEnded = true
    },
  }
}

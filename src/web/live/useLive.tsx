import {
  createContext,
  type ReactNode,
  useContext,
  useEffect,
  useMemo,
  useState,
  useSyncExternalStore,
} from 'react'
import type { LineState, ViewerMessage } from '../../server/apiTypes.ts'
import { askJson } from '../data/http.ts'
import { joinLive } from './joinLive.ts'
import { type LiveFrame, type LiveState, type LiveStore, liveStore } from './liveStore.ts'

const LiveContext = createContext<LiveStore | null>(null)

/** Joins the live stream of the server for as long as it is on the page. */
export function LiveProvider({ children }: { children: ReactNode }) {
  const store = useMemo(() => liveStore(), [])
  useEffect(() => {
    const joined = joinLive({ onMessage: store.take, onAway: store.away })
    // The stream tells of states, not of whose recording it is.
    const forget = store.onMessage(message => {
      if (message.kind !== 'state') return
      const { phase } = message.state
      if (phase === 'armed' || phase === 'recording')
        askJson<LineState>('/api/line').then(store.line, () => {
          // The server is away: its next snapshot has the plan.
        })
    })
    return () => {
      forget()
      joined.leave()
    }
  }, [store])
  return <LiveContext value={store}>{children}</LiveContext>
}

export function useLiveStore(): LiveStore {
  const store = useContext(LiveContext)
  if (!store) throw new Error('useLiveStore was called outside LiveProvider')
  return store
}

/** What changes seldom. */
export function useLiveState(): LiveState {
  const store = useLiveStore()
  return useSyncExternalStore(store.onState, () => store.state)
}

/**
 * Draws the component again with what has come, once a frame at most. The change is made in the frame itself, so that it
 * is on the screen at the end of that frame.
 */
export function useLiveFrame(): LiveFrame & { readonly version: number } {
  const store = useLiveStore()
  const [frames] = useState(() => frameClock(store))
  const version = useSyncExternalStore(frames.subscribe, frames.version)
  const { figures, curve, restlessN } = store.frame
  return { figures, curve, restlessN, version }
}

const DRAWS: readonly ViewerMessage['kind'][] = [
  'snapshot',
  'samples',
  'figures',
  'event',
  'reading',
  'state',
]

function frameClock(store: LiveStore): {
  subscribe(listener: () => void): () => void
  version(): number
} {
  let version = 0
  return {
    version: () => version,
    subscribe(listener) {
      let asked = 0
      const leave = store.onMessage(({ kind }) => {
        if (asked !== 0 || !DRAWS.includes(kind)) return
        asked = requestAnimationFrame(() => {
          asked = 0
          version++
          listener()
        })
      })
      return () => {
        leave()
        cancelAnimationFrame(asked)
      }
    },
  }
}

import {
  createContext,
  type ReactNode,
  useContext,
  useEffect,
  useMemo,
  useRef,
  useSyncExternalStore,
} from 'react'
import type { ViewerMessage } from '../../server/apiTypes.ts'
import type { LineHost } from './lineHost.ts'
import { type LiveFrame, type LiveState, type LiveStore, liveStore } from './liveStore.ts'

interface Live {
  readonly host: LineHost
  readonly store: LiveStore
  readonly frames: FrameClock
}

const LiveContext = createContext<Live | null>(null)

interface LiveProviderProps {
  readonly host: LineHost
  /** A recording is in the store now: what is shown of studies is no longer all. */
  readonly onStored?: () => void
  readonly children: ReactNode
}

/**
 * Joins the live stream of whoever has the line, for as long as it is on the page. A recording that has ended is stored
 * a moment later: who leaves the page in between stays joined until it is, so that `onStored` is called all the same.
 */
export function LiveProvider({ host, onStored, children }: LiveProviderProps) {
  const live = useMemo(() => {
    const store = liveStore()
    return { host, store, frames: frameClock(store) }
  }, [host])
  const { store } = live
  const tellStored = useRef(onStored)
  tellStored.current = onStored
  useEffect(() => {
    let isGone = false
    /** A recording has ended here, and it was not told yet that it is stored. */
    let isStoring = false
    host.line().then(
      ({ open }) => (open?.kind === 'page' ? host.port.resume() : undefined),
      () => {
        // The server is away: its line, if it is still there, asks for the port when it is opened anew.
      },
    )
    const joined = host.join({ onMessage: store.take, onAway: store.away })
    const forget = store.onMessage(message => {
      if (message.kind === 'stored') {
        isStoring = false
        tellStored.current?.()
        if (isGone) leave()
      }
      if (message.kind !== 'state') return
      const { phase } = message.state
      if (phase === 'finished') isStoring = true
      // The stream tells of states, not of whose recording it is.
      if (phase === 'armed' || phase === 'recording')
        host.line().then(store.line, () => {
          // The server is away: its next snapshot has the plan.
        })
    })
    const leave = (): void => {
      forget()
      joined.leave()
    }
    return () => {
      isGone = true
      if (!isStoring) leave()
    }
  }, [host, store])
  return <LiveContext value={live}>{children}</LiveContext>
}

function useLive(): Live {
  const live = useContext(LiveContext)
  if (!live) throw new Error('the live stream was asked for outside LiveProvider')
  return live
}

/** Who has the line. */
export const useLine = (): LineHost => useLive().host

export const useLiveStore = (): LiveStore => useLive().store

/** What changes seldom. */
export function useLiveState(): LiveState {
  const store = useLiveStore()
  return useSyncExternalStore(store.onState, () => store.state)
}

/**
 * Draws the component again with what has come, once a frame at most. The change is made in the frame itself, so that it
 * is on the screen at the end of that frame, and for all components at once, so that their figures are of one moment.
 */
export function useLiveFrame(): LiveFrame & { readonly version: number } {
  const { store, frames } = useLive()
  const version = useSyncExternalStore(frames.subscribe, frames.version)
  const { figures, curve, restlessN } = store.frame
  return { figures, curve, restlessN, version }
}

/** Figures in small type change no more often than they can be read. */
const READABLE_MS = 120

/** As `useLiveFrame`, for what is read and not watched. */
export function useReadableFrame(): LiveFrame {
  const { store, frames } = useLive()
  useSyncExternalStore(frames.subscribe, frames.readable)
  const { figures, curve, restlessN } = store.frame
  return { figures, curve, restlessN }
}

const DRAWS: readonly ViewerMessage['kind'][] = [
  'snapshot',
  'samples',
  'figures',
  'event',
  'reading',
  'state',
]

interface FrameClock {
  subscribe(listener: () => void): () => void
  version(): number
  /** The version as of a moment ago: it changes less often. */
  readable(): number
}

/** One clock for all that draw: it runs while anybody listens. */
function frameClock(store: LiveStore): FrameClock {
  const listeners = new Set<() => void>()
  let version = 0
  let readable = 0
  let readMs = Number.NEGATIVE_INFINITY
  let asked = 0
  let again: ReturnType<typeof setTimeout> | null = null
  let leave: (() => void) | null = null
  const ask = (): void => {
    if (asked === 0) asked = requestAnimationFrame(draw)
  }
  const draw = (): void => {
    asked = 0
    version++
    const waitMs = readMs + READABLE_MS - performance.now()
    if (waitMs <= 0) {
      readable = version
      readMs = performance.now()
    }
    // What came last must not stay unread when nothing more comes.
    else
      again ??= setTimeout(() => {
        again = null
        ask()
      }, waitMs)
    for (const listener of listeners) listener()
  }
  return {
    version: () => version,
    readable: () => readable,
    subscribe(listener) {
      listeners.add(listener)
      leave ??= store.onMessage(({ kind }) => {
        if (DRAWS.includes(kind)) ask()
      })
      return () => {
        listeners.delete(listener)
        if (listeners.size > 0) return
        leave?.()
        leave = null
        cancelAnimationFrame(asked)
        asked = 0
        if (again !== null) clearTimeout(again)
        again = null
      }
    },
  }
}

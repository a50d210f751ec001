import type { ViewerMessage } from './liveMessages.ts'

/** What the hub needs of a WebSocket. */
export interface ViewerSocket {
  readonly bufferedAmount: number
  send(text: string): void
  close(code: number, reason: string): void
  terminate(): void
}

export interface HubOptions {
  /** Bytes that may wait for a viewer; past it the viewer is behind and gets nothing until it has caught up. */
  readonly mostWaiting?: number
  /** How long a viewer may be behind before it is let go. */
  readonly patienceMs?: number
  readonly mostViewers?: number
  readonly nowMs?: () => number
}

export interface LiveHub {
  /** Lets a viewer in; gives what takes it out again. `null` when there are too many. */
  join(socket: ViewerSocket): (() => void) | null
  tell(message: ViewerMessage): void
  readonly viewers: number
  close(): void
}

interface Viewer {
  readonly socket: ViewerSocket
  behindSinceMs: number | null
}

/**
 * Hands the live stream to everyone who looks on. A message is written once and sent to all. A viewer whose network
 * is slow loses messages, and gets a fresh snapshot when it has caught up; the recorder is never kept waiting, and no
 * more than `mostWaiting` bytes are held for anyone.
 */
export function liveHub(
  snapshot: () => ViewerMessage,
  {
    mostWaiting = 256 * 1024,
    patienceMs = 30_000,
    mostViewers = 32,
    nowMs = () => performance.now(),
  }: HubOptions = {},
): LiveHub {
  const viewers = new Set<Viewer>()

  const part = (viewer: Viewer): void => void viewers.delete(viewer)

  const sendTo = (viewer: Viewer, text: string): void => {
    try {
      viewer.socket.send(text)
    } catch {
      part(viewer)
      viewer.socket.terminate()
    }
  }

  /** Whether a viewer can take a message now. */
  const canTake = (viewer: Viewer): boolean => {
    const waiting = viewer.socket.bufferedAmount
    if (viewer.behindSinceMs === null) {
      if (waiting <= mostWaiting) return true
      viewer.behindSinceMs = nowMs()
      return false
    }
    if (waiting <= mostWaiting / 4) {
      viewer.behindSinceMs = null
      sendTo(viewer, JSON.stringify(snapshot()))
      return true
    }
    if (nowMs() - viewer.behindSinceMs > patienceMs) {
      part(viewer)
      // A polite close would wait behind all that is unsent.
      viewer.socket.terminate()
    }
    return false
  }

  return {
    join(socket) {
      if (viewers.size >= mostViewers) return null
      const viewer: Viewer = { socket, behindSinceMs: null }
      viewers.add(viewer)
      sendTo(viewer, JSON.stringify(snapshot()))
      return () => part(viewer)
    },
    tell(message) {
      if (viewers.size === 0) return
      const text = JSON.stringify(message)
      for (const viewer of viewers) if (canTake(viewer)) sendTo(viewer, text)
    },
    get viewers() {
      return viewers.size
    },
    close() {
      for (const { socket } of viewers) socket.close(1001, 'the server stops')
      viewers.clear()
    },
  }
}

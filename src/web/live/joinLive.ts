import type { ViewerMessage } from '../../server/apiTypes.ts'

/** Nothing heard for so long: the server is lost (it says something each second). */
const SILENT_MS = 3_000
const LOOK_MS = 500
const AGAIN_MS = [250, 500, 1_000, 2_000] as const

export interface Joined {
  leave(): void
}

/** What the stream needs of a WebSocket, so that a test can give its own. */
export type Socket = Pick<WebSocket, 'close' | 'onmessage' | 'onclose' | 'onerror'>

/**
 * Joins the live stream and stays joined: when the server is gone, or says nothing for three seconds, it tells so and
 * tries again, for as long as the page is open. Each time it is back the stream begins with a snapshot.
 */
export function joinLive({
  onMessage,
  onAway,
  open = url => new WebSocket(url),
  nowMs = () => performance.now(),
}: {
  readonly onMessage: (message: ViewerMessage) => void
  readonly onAway: () => void
  readonly open?: (url: string) => Socket
  readonly nowMs?: () => number
}): Joined {
  let socket: Socket | null = null
  let heardMs = nowMs()
  let tries = 0
  let timer: ReturnType<typeof setTimeout> | null = null
  let left = false

  const lose = (): void => {
    if (socket) {
      socket.onmessage = socket.onclose = socket.onerror = null
      socket.close()
      socket = null
    }
    if (left) return
    onAway()
    timer ??= setTimeout(
      () => {
        timer = null
        tries++
        join()
      },
      AGAIN_MS[Math.min(tries, AGAIN_MS.length - 1)],
    )
  }
  const join = (): void => {
    heardMs = nowMs()
    const own = open(liveAddress())
    socket = own
    own.onmessage = ({ data }: { data: unknown }) => {
      heardMs = nowMs()
      const message = parsed(data)
      if (!message) return
      if (message.kind === 'snapshot') tries = 0
      onMessage(message)
    }
    own.onclose = lose
    own.onerror = lose
  }
  // A page that sleeps in the background misses the beat: it looks again once it is awake.
  const watch = setInterval(() => {
    if (socket && nowMs() - heardMs > SILENT_MS) lose()
  }, LOOK_MS)
  join()
  return {
    leave() {
      left = true
      clearInterval(watch)
      if (timer !== null) clearTimeout(timer)
      lose()
    },
  }
}

const liveAddress = (): string =>
  typeof location === 'undefined' ? 'ws://127.0.0.1/api/live' : `ws://${location.host}/api/live`

/** Messages are the server's own; one that is cut or of no use is passed over. */
function parsed(data: unknown): ViewerMessage | null {
  try {
    const message = JSON.parse(String(data)) as ViewerMessage
    return typeof message === 'object' && message !== null && 'kind' in message ? message : null
  } catch {
    return null
  }
}

import type { LiveHub } from '../../server/desk/liveHub.ts'
import type { Socket } from '../live/joinLive.ts'

/** The live stream between the line's worker and a window: text one way, how much of it was taken the other. */

/** Lets a window look on. Text that it has not taken yet is counted, as a network counts what it has not sent. */
export function viewerAt(port: MessagePort, hub: LiveHub): void {
  let waiting = 0
  const end = (): void => {
    leave?.()
    port.close()
  }
  const leave = hub.join({
    get bufferedAmount() {
      return waiting
    },
    send(text) {
      waiting += text.length
      port.postMessage(text)
    },
    close: end,
    terminate: end,
  })
  port.onmessage = ({ data }: MessageEvent<number | null>) => {
    if (data === null) end()
    else waiting -= data
  }
}

/** The window's end, as the socket that it would have to a server. */
export function viewerSocket(join: (port: MessagePort) => Promise<unknown>): Socket {
  const { port1, port2 } = new MessageChannel()
  const socket: Socket = {
    onmessage: null,
    onclose: null,
    onerror: null,
    close() {
      port1.postMessage(null)
      port1.close()
    },
  }
  port1.onmessage = ({ data }: MessageEvent<string>) => {
    port1.postMessage(data.length)
    socket.onmessage?.call(socket as WebSocket, new MessageEvent('message', { data }))
  }
  join(port2).catch(() => socket.onclose?.call(socket as WebSocket, new CloseEvent('close')))
  return socket
}

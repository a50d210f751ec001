import type { PagePort } from '../../capture/sources/page.ts'
import { type ByteSocket, CLOSED_CODE, UNPLUGGED_CODE } from '../live/pagePort.ts'

/** The bytes of a serial port between the window that reads it and the line's worker. */

type FromWindow = { readonly bytes: Uint8Array } | { readonly gone: number }
type FromWorker = { readonly taken: number } | { readonly say: string } | { readonly closed: number }

/** The worker's end: lets a window hand on its port. False where one does already. */
export function feedFrom(port: MessagePort, line: PagePort): boolean {
  const tell = (message: FromWorker): void => port.postMessage(message)
  const feed = line.join({
    say: text => tell({ say: `${text}\n` }),
    close: () => tell({ closed: CLOSED_CODE }),
  })
  if (feed === null) return false
  port.onmessage = ({ data }: MessageEvent<FromWindow>) => {
    if ('bytes' in data) {
      feed.bytes(data.bytes)
      tell({ taken: data.bytes.length })
    } else feed.gone(data.gone === UNPLUGGED_CODE ? 'unplugged' : 'left')
  }
  return true
}

/** The window's end, as the socket that it would have to a server. */
export function portSocket(join: (port: MessagePort) => Promise<boolean>): ByteSocket {
  const { port1, port2 } = new MessageChannel()
  const tell = (message: FromWindow): void => port1.postMessage(message)
  let waiting = 0
  const socket: ByteSocket = {
    binaryType: 'arraybuffer',
    get bufferedAmount() {
      return waiting
    },
    send(bytes) {
      const piece = bytes as Uint8Array
      waiting += piece.length
      tell({ bytes: piece })
    },
    close(code = CLOSED_CODE) {
      tell({ gone: code })
    },
    onopen: null,
    onclose: null,
    onmessage: null,
  }
  port1.onmessage = ({ data }: MessageEvent<FromWorker>) => {
    if ('taken' in data) waiting -= data.taken
    else if ('say' in data) socket.onmessage?.({ data: data.say })
    else {
      socket.onclose?.({ code: data.closed })
      port1.close()
    }
  }
  join(port2).then(
    isIn => (isIn ? socket.onopen?.() : socket.onclose?.({ code: UNPLUGGED_CODE })),
    () => socket.onclose?.({ code: UNPLUGGED_CODE }),
  )
  return socket
}

import { once } from 'node:events'
import { type AddressInfo, createServer, type Socket } from 'node:net'
import WebSocket from 'ws'
import type { ViewerMessage } from '../../src/server/desk/liveMessages.ts'

/** A device on the loopback in the test's own hands: it says `time_ms,force_N` and what further columns are named. */
export interface TcpRig {
  readonly source: { kind: 'tcp'; host: string; port: number }
  /** Waits until the server listens. */
  connected(): Promise<void>
  /** Says the force at 100 samples a second from one time to another, all at once: the stamps are the device's. */
  pull(
    fromS: number,
    toS: number,
    force: (t: number) => number,
    extra?: (t: number) => readonly number[],
  ): void
  close(): Promise<void>
}

export async function tcpRig(columns = 'time_ms,force_N'): Promise<TcpRig> {
  let device: Socket | null = null
  const server = createServer(socket => {
    device = socket
    socket.on('error', () => {})
    socket.write(`${columns}\n`)
  })
  server.listen(0, '127.0.0.1')
  await once(server, 'listening')
  return {
    source: { kind: 'tcp', host: '127.0.0.1', port: (server.address() as AddressInfo).port },
    async connected() {
      while (device === null) await new Promise(resolve => setTimeout(resolve, 5))
    },
    pull(fromS, toS, force, extra = () => []) {
      const rows: string[] = []
      for (let i = Math.round(fromS * 100); i < Math.round(toS * 100); i++) {
        // A display step of 0.01 N that is seen to move.
        const cells = [i * 10, (force(i / 100) + 0.01 * (i % 3)).toFixed(2), ...extra(i / 100)]
        rows.push(`${cells.join(',')}\n`)
      }
      device?.write(rows.join(''))
    },
    async close() {
      device?.destroy()
      server.close()
      await once(server, 'close')
    },
  }
}

export interface Viewer {
  readonly got: ViewerMessage[]
  of<K extends ViewerMessage['kind']>(kind: K): Extract<ViewerMessage, { kind: K }>[]
  close(): void
}

/** Joins the live stream, and waits for its snapshot. */
export async function viewer(port: number): Promise<Viewer> {
  const socket = new WebSocket(`ws://127.0.0.1:${port}/api/live`)
  const got: ViewerMessage[] = []
  socket.on('message', data => got.push(JSON.parse(String(data)) as ViewerMessage))
  await once(socket, 'message')
  return {
    got,
    of: kind => got.filter((m): m is Extract<ViewerMessage, { kind: typeof kind }> => m.kind === kind),
    close: () => socket.close(),
  }
}

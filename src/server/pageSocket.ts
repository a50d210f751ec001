import type { FastifyInstance } from 'fastify'
import type { WebSocket } from 'ws'
import type { PagePort } from '../capture/index.ts'

/** How a page says that the device went away. */
const UNPLUGGED_CODE = 4001

/** Where a page hands on the bytes of its port: binary messages come, lines for the device go as text. */
export function pageSocket(app: FastifyInstance, port: PagePort): void {
  app.get(
    '/api/line/bytes',
    {
      websocket: true,
      preValidation: async (_, reply) => (port.isTaken ? reply.code(409).send(TAKEN) : undefined),
    },
    socket => feedFrom(socket, port),
  )
}

const TAKEN = {
  problems: [
    {
      where: 'request',
      what: 'another page hands on its port.',
      cure: 'Close the line there, or the page.',
    },
  ],
}

function feedFrom(socket: WebSocket, port: PagePort): void {
  const feed = port.join({
    say: line => socket.send(`${line}\n`),
    close: () => socket.close(1000, 'the line is closed'),
  })
  if (feed === null) {
    socket.terminate()
    return
  }
  socket.on('message', (data: Buffer, isBinary: boolean) => {
    if (isBinary) feed.bytes(new Uint8Array(data))
  })
  socket.on('close', code => feed.gone(code === UNPLUGGED_CODE ? 'unplugged' : 'left'))
  socket.on('error', () => feed.gone('left'))
}

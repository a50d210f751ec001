import { once } from 'node:events'
import { createServer, type Server, type Socket } from 'node:net'
import { afterEach, expect, test } from 'vitest'
import { NO_PLAN, openSession, type Session, tcpSource } from '../../../src/capture/index.ts'
import { withChecksum } from '../../../src/capture/protocol.ts'
import { whole } from '../journaled.ts'
import { memoryFiles } from '../memoryFiles.ts'

let server: Server | null = null
let session: Session | null = null
afterEach(async () => {
  await session?.close()
  server?.close()
})

async function device(
  askRateHz: number | null = null,
): Promise<{ session: Session; next: () => Promise<Socket>; heard: string[] }> {
  const sockets: Socket[] = []
  const heard: string[] = []
  server = createServer(socket => {
    sockets.push(socket)
    socket.on('error', () => {})
    socket.on('data', chunk =>
      heard.push(
        ...String(chunk)
          .split('\n')
          .filter(line => line !== ''),
      ),
    )
  }).listen(0, '127.0.0.1')
  await once(server, 'listening')
  const address = server.address()
  if (address === null || typeof address === 'string') throw new Error('no port')
  const opened = await openSession({
    source: tcpSource('127.0.0.1', address.port),
    journals: '/j',
    files: memoryFiles(),
    askRateHz,
  })
  if (!opened.ok) throw new Error(opened.problems[0]?.what)
  session = opened.value
  const next = async (): Promise<Socket> => {
    while (sockets.length === 0) await new Promise(resolve => setTimeout(resolve, 5))
    return sockets.shift()!
  }
  return { session, next, heard }
}

const until = async (holds: () => boolean): Promise<void> => {
  while (!holds()) await new Promise(resolve => setTimeout(resolve, 5))
}

test('lines over the network; a connection that is cut is made again', async () => {
  const { session, next, heard } = await device()
  await session.start(NO_PLAN)
  const first = await next()
  first.write('1 N\n2 N\n')
  await until(() => session.snapshot().figures.samples === 2)
  first.destroy()
  const second = await next()
  second.write('3 N\n')
  await until(() => session.snapshot().figures.samples === 3)
  const ended = whole(await session.finish())
  expect([...ended.recording.forceN]).toEqual([1, 2, 3])
  expect(ended.troubles.reopened).toBe(1)
  // It only listens: nothing is ever said to a device that has not greeted.
  expect(heard).toEqual([])
})

test('a device of the line protocol is asked for a rate and for sending, once it has greeted', async () => {
  const { session, next, heard } = await device(320)
  await session.start(NO_PLAN)
  const socket = await next()
  socket.write(`${withChecksum('tenterhook 1 unit=N tick=1e-6 rate=80')}\n`)
  await until(() => heard.length === 2)
  expect(heard).toEqual(['rate 320', 'send'])
  const lines = [0, 1, 3, 3, 2, 4].map(n => withChecksum(`s ${n} ${n * 3125} ${n}.5 0`))
  socket.write(`${lines.join('\n')}\n`)
  await until(() => session.snapshot().figures.samples === 4)
  const ended = whole(await session.finish())
  const { recording, troubles } = ended
  expect([...recording.forceN]).toEqual([0.5, 1.5, 2.5, 3.5, 4.5])
  expect(recording.timeS[4]).toBeCloseTo(0.0125, 9)
  expect(troubles).toMatchObject({ lost: 0, repeated: 1, outOfOrder: 1 })
})

import { once } from 'node:events'
import { afterEach, beforeEach, expect, test } from 'vitest'
import WebSocket from 'ws'
import type { LineState } from '../../src/server/apiTypes.ts'
import { type Running, running } from './running.ts'
import { type Viewer, viewer } from './tcpRig.ts'

let run: Running
let seen: Viewer
beforeEach(async () => {
  run = await running()
  seen = await viewer(run.server.port)
})
afterEach(async () => {
  seen.close()
  await run.stop()
})

const post = async (path: string, body: unknown) => {
  const answer = await fetch(new URL(path, run.server.address), {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  })
  return { status: answer.status, value: (await answer.json()) as LineState }
}
const openLine = () => post('/api/line', { source: { kind: 'page', name: 'USB 1a86:7523', baud: 9_600 } })

async function page(): Promise<WebSocket> {
  const socket = new WebSocket(`ws://127.0.0.1:${run.server.port}/api/line/bytes`)
  await once(socket, 'open')
  return socket
}
const says = (socket: WebSocket, text: string) => socket.send(Buffer.from(text))
const forces = () => seen.of('samples').flatMap(({ forceN }) => forceN)

test('a page hands on its port: samples come as over any line, and what goes and comes back is a cable put back', async () => {
  const first = await page()
  const opened = await openLine()
  expect(opened).toMatchObject({ status: 200, value: { open: { kind: 'page' } } })
  expect(opened.value.open?.name).toBe('port of a page, USB 1a86:7523, 9600 baud')
  says(first, 'time_ms,force_N\n0,1.5\n10,2')
  says(first, '.5\n20,3.5\n')
  await expect.poll(forces).toEqual([1.5, 2.5, 3.5])
  first.close(4001, 'unplugged')
  const lost = () => seen.of('alarm').filter(({ alarm }) => alarm.code === 'line-lost')
  await expect.poll(() => lost().length).toBe(1)
  expect(lost()[0]?.alarm.what).toMatch(/unplugged/)
  const again = await page()
  await expect.poll(() => lost().at(-1)?.alarm.over).toBe(true)
  says(again, '30,4.5\n')
  await expect.poll(forces).toEqual([1.5, 2.5, 3.5, 4.5])
  again.close()
  await expect.poll(() => lost().at(-1)?.alarm.what).toMatch(/the page that reads the port was closed/)
})

test('without a page there is no such line; a second page is refused; a line that is closed lets the page go', async () => {
  expect(await openLine()).toMatchObject({
    status: 422,
    value: { problems: [{ what: 'no page hands on a port.' }] },
  })
  const first = await page()
  const second = new WebSocket(`ws://127.0.0.1:${run.server.port}/api/line/bytes`)
  const [, answer] = (await once(second, 'unexpected-response')) as [unknown, { statusCode: number }]
  expect(answer.statusCode).toBe(409)
  second.on('error', () => {})
  second.terminate()
  expect((await openLine()).status).toBe(200)
  await fetch(new URL('/api/line', run.server.address), { method: 'DELETE' })
  const [code] = (await once(first, 'close')) as [number]
  expect(code).toBe(1000)
})

test('a message that is too long for a piece ends the page’s socket, not the server', async () => {
  const first = await page()
  expect((await openLine()).status).toBe(200)
  first.send(Buffer.alloc(5_000, 48))
  await once(first, 'close')
  await expect.poll(() => seen.of('alarm').at(-1)?.alarm.code).toBe('line-lost')
  expect((await fetch(new URL('/api/line', run.server.address))).status).toBe(200)
})

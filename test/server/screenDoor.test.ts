import type { FastifyInstance } from 'fastify'
import { expect, test } from 'vitest'
import { fine, wrong } from '../../src/core/problem.ts'
import { screenDoor } from '../../src/server/screenDoor.ts'
import { good } from '../store/stores.ts'
import { running } from './running.ts'

function door({ addresses = ['192.0.2.7'] }: { addresses?: readonly string[] } = {}) {
  let [opened, closed] = [0, 0]
  const viewers = { close: async () => void closed++ } as unknown as FastifyInstance
  const at = screenDoor({
    async listen() {
      opened++
      return fine(viewers)
    },
    addresses: () => addresses,
    portOf: () => 8418,
  })
  return { at, counts: () => [opened, closed] }
}

test('is shut until it is opened at the bench, and is opened once', async () => {
  const { at, counts } = door()
  expect(at.isOpen).toBe(false)
  expect(at.newCode().links).toEqual([])
  await Promise.all([at.open(), at.open()])
  good(await at.open())
  expect(at.isOpen).toBe(true)
  const { code, links } = at.newCode()
  expect(links).toEqual([`http://192.0.2.7:8418/join/${code}`])
  await at.stop()
  expect(counts()).toEqual([1, 1])
})

test('without a network, or where nothing may listen, it says so and stays shut', async () => {
  const { at, counts } = door({ addresses: [] })
  expect(await at.open()).toMatchObject({ ok: false, problems: [{ where: 'second screen' }] })
  expect(counts()).toEqual([0, 0])
  const taken = screenDoor({
    listen: async () => wrong({ where: 'port 8418', what: 'it is taken.', cure: 'Choose another.' }),
    addresses: () => ['192.0.2.7'],
    portOf: () => 0,
  })
  expect((await taken.open()).ok).toBe(false)
  expect(taken.isOpen).toBe(false)
})

test('a server that was started for this computer alone lets a screen in once the bench asks', async () => {
  const bench = await running({ screensAt: { host: '127.0.0.1', addresses: () => ['127.0.0.1'] } })
  try {
    expect(bench.server.screenLinks()).toBeNull()
    const asked = await fetch(new URL('/api/screens', bench.server.address), { method: 'POST' })
    const { links } = (await asked.json()) as { links: string[] }
    expect(links).toHaveLength(1)
    const entered = await fetch(links[0] ?? '', { redirect: 'manual' })
    expect(entered.status).toBe(303)
    // The door knows nothing of what changes anything.
    const armed = await fetch(new URL('/api/line/arm', links[0]), {
      method: 'POST',
      headers: { cookie: (entered.headers.get('set-cookie') ?? '').split(';')[0] ?? '' },
    })
    expect(armed.status).toBe(404)
  } finally {
    await bench.stop()
  }
})

import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { ViewerMessage } from '../../../src/server/apiTypes.ts'
import { joinLive } from '../../../src/web/live/joinLive.ts'

beforeEach(() => {
  vi.useFakeTimers()
})
afterEach(() => {
  vi.useRealTimers()
})

class FakeSocket {
  onmessage: ((event: MessageEvent) => void) | null = null
  onclose: ((event: CloseEvent) => void) | null = null
  onerror: ((event: Event) => void) | null = null
  closed = false
  close(): void {
    this.closed = true
  }
  say(text: string): void {
    this.onmessage?.({ data: text } as MessageEvent)
  }
  drop(): void {
    this.onclose?.({} as CloseEvent)
  }
}

function joined() {
  const sockets: FakeSocket[] = []
  const got: ViewerMessage['kind'][] = []
  let away = 0
  const live = joinLive({
    onMessage: message => got.push(message.kind),
    onAway: () => away++,
    open: () => {
      const socket = new FakeSocket()
      sockets.push(socket)
      return socket
    },
    nowMs: () => Date.now(),
  })
  return { sockets, got, live, away: () => away }
}

test('a server that goes away is looked for again, for as long as it takes', () => {
  const { sockets, away, live } = joined()
  sockets[0]?.drop()
  expect(away()).toBe(1)
  for (let i = 0; i < 10; i++) {
    vi.advanceTimersByTime(2_100)
    sockets.at(-1)?.drop()
  }
  expect(sockets.length).toBeGreaterThan(8)
  live.leave()
  const had = sockets.length
  vi.advanceTimersByTime(60_000)
  expect(sockets.length).toBe(had)
})

test('silence of three seconds is a lost server; a beat keeps it', () => {
  const { sockets, away, live } = joined()
  for (let i = 0; i < 6; i++) {
    vi.advanceTimersByTime(1_000)
    sockets[0]?.say('{"kind":"beat"}')
  }
  expect(away()).toBe(0)
  vi.advanceTimersByTime(4_000)
  expect(away()).toBe(1)
  expect(sockets[0]?.closed).toBe(true)
  expect(sockets.length).toBeGreaterThan(1)
  live.leave()
})

test('what is no message is passed over', () => {
  const { sockets, got, live } = joined()
  for (const text of ['{', 'null', '1', '{"kind":"beat"}']) sockets[0]?.say(text)
  expect(got).toEqual(['beat'])
  live.leave()
})

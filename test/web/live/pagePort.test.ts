import { expect, test } from 'vitest'
import { type ByteSocket, pagePort } from '../../../src/web/live/pagePort.ts'
import type { WebSerial, WebSerialPort } from '../../../src/web/live/webSerial.ts'

/** A port in the test's own hands. */
function handPort() {
  let feed: ReadableStreamDefaultController<Uint8Array> | null = null
  const said: string[] = []
  const fake = {
    opened: 0,
    isOpen: false,
    said,
    readable: null as ReadableStream<Uint8Array> | null,
    writable: new WritableStream<Uint8Array>({
      write: chunk => void said.push(new TextDecoder().decode(chunk)),
    }),
    async open({ baudRate }: { baudRate: number }) {
      if (fake.isOpen) throw new Error('it is open already')
      fake.isOpen = true
      fake.opened = baudRate
      fake.readable = streamOfPort()
    },
    async close() {
      if (fake.readable?.locked) throw new Error('its reader holds it')
      fake.isOpen = false
      fake.readable = null
    },
    getInfo: () => ({ usbVendorId: 0x1a86, usbProductId: 0x7523 }),
    bytes: (text: string) => feed?.enqueue(new TextEncoder().encode(text)),
    framingError() {
      const broken = feed
      fake.readable = streamOfPort()
      broken?.error(new Error('framing'))
    },
    unplug() {
      const gone = feed
      fake.readable = null
      gone?.error(new Error('the device has been lost'))
    },
    /** What lies in the port and was not read. */
    get waiting() {
      return 1 - (feed?.desiredSize ?? 1)
    },
  }
  const streamOfPort = () =>
    new ReadableStream<Uint8Array>({
      start(controller) {
        feed = controller
      },
    })
  return fake
}

class HandSocket implements ByteSocket {
  onopen: (() => void) | null = null
  onclose: ((event: { readonly code: number }) => void) | null = null
  onmessage: ((event: { readonly data: unknown }) => void) | null = null
  binaryType: BinaryType = 'blob'
  bufferedAmount = 0
  readonly pieces: Uint8Array[] = []
  closedWith: number | null = null
  send(data: unknown): void {
    this.pieces.push(data as Uint8Array)
  }
  close(code = 1005): void {
    this.closedWith = code
    this.onclose?.({ code })
  }
  get text(): string {
    return this.pieces.map(piece => new TextDecoder().decode(piece)).join('')
  }
}

function bench() {
  const port = handPort()
  const sockets: HandSocket[] = []
  const kept: { word: string | null } = { word: null }
  let isServerThere = true
  const given: { ports: WebSerialPort[] } = { ports: [] }
  const serial: WebSerial = {
    async requestPort() {
      given.ports = [port]
      return port
    },
    getPorts: async () => given.ports,
  }
  const own = pagePort({
    serial: () => serial,
    socketTo() {
      const socket = new HandSocket()
      sockets.push(socket)
      queueMicrotask(() => (isServerThere ? socket.onopen?.() : socket.onclose?.({ code: 1006 })))
      return socket
    },
    pause: () => new Promise(resolve => setTimeout(resolve, 0)),
    memory: { read: () => kept.word, write: word => Object.assign(kept, { word }) },
  })
  return {
    port,
    own,
    kept,
    given,
    sockets,
    serverIs(there: boolean) {
      isServerThere = there
    },
  }
}
const soon = (what: () => unknown) => expect.poll(what, { interval: 2, timeout: 4_000 }).toBeTruthy()

test('what the port says goes on byte for byte, in pieces that the server takes, and what the server says reaches the device', async () => {
  const { port, own, sockets } = bench()
  expect(await own.open(57_600)).toBe('USB 1a86:7523')
  expect(port.opened).toBe(57_600)
  const long = '1234.5,0.25\n'.repeat(300)
  port.bytes(long)
  await soon(() => sockets[0]?.text.length === long.length)
  expect(sockets[0]?.text).toBe(long)
  expect(sockets[0]?.pieces.every(({ length }) => length <= 1_024)).toBe(true)
  sockets[0]?.onmessage?.({ data: 'send\n' })
  await soon(() => port.said.length > 0)
  expect(port.said).toEqual(['send\n'])
  // Asked again, it has nothing to do.
  await own.open(57_600)
  expect(sockets).toHaveLength(1)
})

test('while the server takes nothing the port is not read, and nothing is lost', async () => {
  const { port, own, sockets } = bench()
  await own.open(9_600)
  sockets[0]!.bufferedAmount = 65 * 1_024
  for (let i = 0; i < 20; i++) port.bytes(`${i}\n`)
  await new Promise(resolve => setTimeout(resolve, 20))
  expect(sockets[0]?.pieces).toHaveLength(0)
  expect(port.waiting).toBeGreaterThan(15)
  sockets[0]!.bufferedAmount = 0
  await soon(() => sockets[0]?.text.endsWith('19\n'))
  expect(sockets[0]?.text).toBe(Array.from({ length: 20 }, (_, i) => `${i}\n`).join(''))
})

test('a framing error is passed over; an unplugged device is told and opened again when it is back', async () => {
  const { port, own, sockets, given } = bench()
  await own.open(9_600)
  port.bytes('1\n')
  await soon(() => sockets[0]?.text === '1\n')
  port.framingError()
  await new Promise(resolve => setTimeout(resolve, 5))
  port.bytes('2\n')
  await soon(() => sockets[0]?.text === '1\n2\n')
  given.ports = []
  port.unplug()
  await soon(() => sockets[0]?.closedWith === 4001)
  given.ports = [port]
  await soon(() => sockets.length === 2)
  port.bytes('3\n')
  await soon(() => sockets[1]?.text === '3\n')
})

test('a server that was lost is joined again; one that closes the line lets the port go', async () => {
  const { port, own, sockets, kept, serverIs } = bench()
  await own.open(9_600)
  expect(kept.word).toBe('9600 USB 1a86:7523')
  serverIs(false)
  sockets[0]?.onclose?.({ code: 1006 })
  await soon(() => sockets.length > 2)
  expect(port.isOpen).toBe(true)
  serverIs(true)
  const had = sockets.length
  await soon(() => sockets.length > had)
  port.bytes('7\n')
  await soon(() => sockets.at(-1)?.text === '7\n')
  sockets.at(-1)?.onclose?.({ code: 1000 })
  await soon(() => !port.isOpen)
  expect(kept.word).toBeNull()
  // And it can be opened anew.
  await own.open(9_600)
  expect(port.isOpen).toBe(true)
})

test('after a reload the same port is taken again, and no other', async () => {
  const { port, own, kept, given, sockets } = bench()
  given.ports = [port]
  kept.word = '9600 USB 0403:6001'
  await own.resume()
  expect(sockets).toHaveLength(0)
  kept.word = '9600 USB 1a86:7523'
  await own.resume()
  expect(port.opened).toBe(9_600)
  expect(sockets).toHaveLength(1)
})

test('nothing chosen, no such browser, a server that does not let it in: each says what to do', async () => {
  const { own, port, serverIs } = bench()
  serverIs(false)
  await expect(own.open(9_600)).rejects.toMatchObject({ problems: [{ what: 'the server did not take it.' }] })
  expect(port.isOpen).toBe(false)
  await expect(pagePort({ serial: () => null }).open(9_600)).rejects.toMatchObject({
    problems: [{ what: 'this browser has no serial ports for pages.' }],
  })
  const unwilling: WebSerial = {
    requestPort: () => Promise.reject(new Error('no')),
    getPorts: async () => [],
  }
  await expect(pagePort({ serial: () => unwilling }).choose()).rejects.toMatchObject({
    problems: [{ what: 'no port was chosen.' }],
  })
})

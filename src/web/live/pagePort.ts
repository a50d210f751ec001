import { Trouble } from '../data/trouble.ts'
import { texts } from '../texts/index.ts'
import { portName, type WebSerial, type WebSerialPort, webSerial } from './webSerial.ts'

/** Most bytes of one message to the server. */
const PIECE = 1_024
/** Bytes that may wait for the server; past it the port is read no further. */
const MOST_WAITING = 64 * 1_024
const LOOK_MS = 20
const AGAIN_MS = 500
/** What the port itself may hold while it is not read: half a minute of a fast converter. */
const PORT_BUFFER = 256 * 1_024
/** As `src/server/pageSocket.ts` says them, and the page’s own worker. */
export const UNPLUGGED_CODE = 4001
export const CLOSED_CODE = 1000

const words = texts.pull.pagePort

/** What this needs of a WebSocket, so that a test can give its own. */
export type ByteSocket = Pick<WebSocket, 'send' | 'close' | 'bufferedAmount' | 'binaryType'> & {
  onopen: (() => void) | null
  onclose: ((event: { readonly code: number }) => void) | null
  onmessage: ((event: { readonly data: unknown }) => void) | null
}

/**
 * A serial port that this page reads and hands on to the server, byte for byte; nothing of it is understood here. It
 * lives as long as the page, whatever place of the app is open.
 */
export interface PagePort {
  /** Lets the person choose a port; gives its name. Only from a press. */
  choose(): Promise<string>
  /**
   * Opens the port and joins the server, unless both are so already; gives the port's name. Asks the person where no port
   * was chosen. A port that is unplugged and a server that is lost are tried again until the server closes the line.
   */
  open(baud: number): Promise<string>
  /** After a reload: the port that this window read before, where the browser still gives it. */
  resume(): Promise<void>
}

/** What a window keeps of its port, so that it finds it again after a reload. */
export interface PortMemory {
  read(): string | null
  write(word: string | null): void
}

export function pagePort({
  serial = webSerial,
  socketTo = () => new WebSocket(`ws://${location.host}/api/line/bytes`) as ByteSocket,
  pause = (ms: number) => new Promise<void>(resolve => setTimeout(resolve, ms)),
  memory = windowMemory,
}: {
  readonly serial?: () => WebSerial | null
  readonly socketTo?: () => ByteSocket
  readonly pause?: (ms: number) => Promise<void>
  readonly memory?: PortMemory
} = {}): PagePort {
  let port: WebSerialPort | null = null
  let baud = 0
  let isOpen = false
  let isWanted = false
  let socket: ByteSocket | null = null
  let reader: ReadableStreamDefaultReader<Uint8Array> | null = null
  let reading: Promise<void> = Promise.resolve()

  const browserPorts = (): WebSerial => serial() ?? fail(words.notThere)
  const choose = async (): Promise<string> => {
    const chosen = await browserPorts()
      .requestPort()
      .catch(() => fail(words.notChosen))
    if (chosen !== port) {
      await letGo()
      port = chosen
    }
    return portName(chosen)
  }
  const openPort = async (): Promise<void> => {
    if (isOpen || port === null) return
    await port.open({ baudRate: baud, bufferSize: PORT_BUFFER })
    isOpen = true
  }
  const letGo = async (): Promise<void> => {
    isWanted = false
    memory.write(null)
    await reader?.cancel().catch(passedOver)
    // A port whose reader still holds it does not close.
    await reading
    if (isOpen) await port?.close().catch(passedOver)
    isOpen = false
  }

  /** Whether the server lets this page in. */
  const joinServer = (): Promise<boolean> =>
    new Promise(resolve => {
      const own = socketTo()
      own.binaryType = 'arraybuffer'
      own.onopen = () => {
        socket = own
        resolve(true)
      }
      own.onmessage = ({ data }) => void say(data)
      own.onclose = ({ code }) => {
        resolve(false)
        if (socket !== own) return
        socket = null
        if (code === CLOSED_CODE) void letGo()
        else void joinAgain()
      }
    })
  const joinAgain = async (): Promise<void> => {
    while (isWanted && isOpen && socket === null) {
      await pause(AGAIN_MS)
      if (isWanted && isOpen && socket === null) await joinServer()
    }
  }
  const say = async (data: unknown): Promise<void> => {
    const writer = typeof data === 'string' ? port?.writable?.getWriter() : undefined
    await writer?.write(new TextEncoder().encode(String(data))).catch(passedOver)
    writer?.releaseLock()
  }

  const handOn = async (bytes: Uint8Array): Promise<void> => {
    for (let from = 0; from < bytes.length; from += PIECE) {
      while (socket !== null && socket.bufferedAmount > MOST_WAITING) await pause(LOOK_MS)
      // With no server there is nobody to keep them, and what came late would have a wrong time: a gap is honest.
      socket?.send(bytes.slice(from, from + PIECE))
    }
  }
  /** Reads until the port is let go or has gone away. After a framing error or a break it gives another stream. */
  const read = async (): Promise<void> => {
    for (let stream = port?.readable; stream; stream = port?.readable === stream ? null : port?.readable) {
      reader = stream.getReader()
      try {
        for (let next = await reader.read(); !next.done; next = await reader.read()) await handOn(next.value)
        return
      } catch {
        // Where the device has gone there is no other stream.
      } finally {
        reader.releaseLock()
        reader = null
      }
    }
  }
  const readOn = async (): Promise<void> => {
    while (isWanted) {
      await read()
      if (!isWanted) return
      await port?.close().catch(passedOver)
      isOpen = false
      const lost = socket
      socket = null
      lost?.close(UNPLUGGED_CODE)
      await comeBack()
    }
  }
  /** Tries the port until it is plugged in again: it may come back as another object. */
  const comeBack = async (): Promise<void> => {
    const name = port && portName(port)
    while (isWanted && !isOpen) {
      await pause(AGAIN_MS)
      const known = await browserPorts().getPorts()
      port = known.find(one => one === port) ?? known.find(one => portName(one) === name) ?? port
      await openPort().catch(passedOver)
    }
    if (isWanted && !(await joinServer())) await joinAgain()
  }

  const open = async (atBaud: number): Promise<string> => {
    if (port === null) {
      const known = await browserPorts().getPorts()
      if (known.length === 1 && known[0]) port = known[0]
      else await choose()
    }
    if (isOpen && atBaud !== baud) await letGo()
    baud = atBaud
    const wasOpen = isOpen
    await openPort().catch((error: unknown) => fail(words.notOpened(String(error))))
    isWanted = true
    if (socket === null && !(await joinServer())) {
      await letGo()
      fail(words.notLetIn)
    }
    if (!wasOpen) reading = readOn()
    const name = port === null ? '' : portName(port)
    memory.write(`${baud} ${name}`)
    return name
  }

  return {
    choose,
    open,
    async resume() {
      const [, atBaud, name] = /^(\d+) (.+)$/.exec(memory.read() ?? '') ?? []
      const ports = isOpen || atBaud === undefined ? [] : await (serial()?.getPorts() ?? [])
      port = ports.find(one => portName(one) === name) ?? port
      // Without it the bench says that the line is lost: it can be opened anew.
      if (ports.length > 0 && port !== null) await open(Number(atBaud)).catch(passedOver)
    },
  }
}

function fail({ what, cure }: { readonly what: string; readonly cure: string }): never {
  throw new Trouble([{ where: words.where, what, cure }])
}

/** The port is as good as closed. */
const passedOver = (): void => {}

const KEY = 'tenterhook.port'
const windowMemory: PortMemory = {
  read: () => sessionStorage.getItem(KEY),
  write(word) {
    if (word === null) sessionStorage.removeItem(KEY)
    else sessionStorage.setItem(KEY, word)
  },
}

/** The one of this page. */
export const ownPort = pagePort()

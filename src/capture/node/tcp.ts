import { connect } from 'node:net'
import type { Problem } from '../../core/problem.ts'
import type { Source, SourceListener } from '../source.ts'
import { type Ended, keepOpen } from '../sources/keepOpen.ts'

const CONNECT_MS = 5_000

/** Lines over a TCP connection, from a board on the network or a serial line that another computer serves. */
export function tcpSource(host: string, port: number): Source {
  const name = `network line ${host}:${port}`
  let write: ((line: string) => void) | null = null
  return {
    kind: 'tcp',
    name,
    run: (listener, stop) =>
      keepOpen(() => connectOnce(host, port, listener, stop, next => (write = next)), listener, stop),
    send: line => write?.(line),
  }
}

function connectOnce(
  host: string,
  port: number,
  listener: SourceListener,
  stop: AbortSignal,
  tell: (write: ((line: string) => void) | null) => void,
): Promise<Ended> {
  const where = `${host}:${port}`
  return new Promise(resolve => {
    let opened = false
    let problem: Problem | null = null
    const socket = connect({ host, port, noDelay: true, keepAlive: true, keepAliveInitialDelay: 5_000 })
    socket.setTimeout(CONNECT_MS, () => {
      if (opened) return
      problem = networkProblem(where, { code: 'ETIMEDOUT' })
      socket.destroy()
    })
    const halt = (): void => void socket.destroy()
    stop.addEventListener('abort', halt)
    if (stop.aborted) halt()
    socket.on('connect', () => {
      opened = true
      socket.setTimeout(0)
      tell(line => void (socket.writable && socket.write(`${line}\n`)))
      listener.opened()
    })
    socket.on('data', chunk => listener.bytes(new Uint8Array(chunk)))
    socket.on('error', error => {
      problem = networkProblem(where, error as NodeJS.ErrnoException)
    })
    socket.on('close', () => {
      stop.removeEventListener('abort', halt)
      tell(null)
      if (stop.aborted) resolve({ how: 'stopped' })
      else if (opened) resolve({ how: 'lost', problem: problem ?? ended(where) })
      else resolve({ how: 'not-opened', problem: problem ?? ended(where) })
    })
  })
}

const ended = (where: string): Problem => ({
  where,
  what: 'the other side ended the connection.',
  cure: 'It is tried again by itself; check that the device is on.',
})

const MEANINGS: Readonly<Record<string, readonly [what: string, cure: string]>> = {
  ECONNREFUSED: ['nothing listens there.', 'Check the port number, and that the device serves it.'],
  ENOTFOUND: ['no such host is known.', 'Check the name, or give the device’s address in numbers.'],
  EAI_AGAIN: ['the name cannot be looked up.', 'Check the network, or give the device’s address in numbers.'],
  ETIMEDOUT: ['it does not answer.', 'Check the address, and that both are on the same network.'],
  EHOSTUNREACH: ['there is no way to it.', 'Check that both are on the same network.'],
  ENETUNREACH: ['there is no network.', 'Check the network of this computer.'],
  ECONNRESET: ['the connection was cut.', 'It is tried again by itself; check that the device is on.'],
  EPIPE: ['the connection was cut.', 'It is tried again by itself; check that the device is on.'],
}

function networkProblem(where: string, error: Pick<NodeJS.ErrnoException, 'code'>): Problem {
  const code = error.code ?? 'unknown'
  const [what, cure] = MEANINGS[code] ?? [`the system says ${code}.`, 'Check the address and the network.']
  return { where, what, cure }
}

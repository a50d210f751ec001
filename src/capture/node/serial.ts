import type { SerialPort } from 'serialport'
import type { Source, SourceListener } from '../source.ts'
import { type Ended, keepOpen } from '../sources/keepOpen.ts'
import { serialProblem, unplugged } from '../sources/serialWords.ts'

const USUAL_BAUD = 115_200

/**
 * A serial port, 8 data bits, no parity, 1 stop bit. Opened again by itself when the cable was pulled and put
 * back.
 */
export function serialSource(path: string, { baud = USUAL_BAUD }: { readonly baud?: number } = {}): Source {
  let port: SerialPort | null = null
  return {
    kind: 'serial',
    name: `serial line ${path}`,
    run: (listener, stop) =>
      keepOpen(() => openOnce(path, baud, listener, stop, opened => (port = opened)), listener, stop),
    send: line => void (port?.isOpen && port.write(`${line}\n`)),
  }
}

async function openOnce(
  path: string,
  baud: number,
  listener: SourceListener,
  stop: AbortSignal,
  tell: (port: SerialPort | null) => void,
): Promise<Ended> {
  // Loaded here, since it brings a native module that a machine may lack and that other sources do not need.
  const loaded = await import('serialport').catch((error: unknown) =>
    serialProblem(path, error, process.platform),
  )
  if (!('SerialPort' in loaded)) return { how: 'not-opened', problem: loaded }
  if (stop.aborted) return { how: 'stopped' }
  return await new Promise<Ended>(resolve => {
    let opened = false
    const halt = (): void => {
      if (port.isOpen) port.close()
      else resolve({ how: 'stopped' })
    }
    const ended = (how: Ended): void => {
      stop.removeEventListener('abort', halt)
      tell(null)
      resolve(how)
    }
    const port = new loaded.SerialPort({ path, baudRate: baud, autoOpen: false, highWaterMark: 65_536 })
    port.on('data', (chunk: Buffer) => listener.bytes(new Uint8Array(chunk)))
    // A read that fails shows as an error and then as a close; the close tells which it was.
    port.on('error', () => {})
    port.on('close', () =>
      ended(stop.aborted ? { how: 'stopped' } : { how: 'lost', problem: unplugged(path) }),
    )
    stop.addEventListener('abort', halt)
    port.open(error => {
      if (error) {
        ended(
          opened
            ? { how: 'stopped' }
            : { how: 'not-opened', problem: serialProblem(path, error, process.platform) },
        )
        return
      }
      opened = true
      if (stop.aborted) {
        port.close()
        return
      }
      tell(port)
      listener.opened()
    })
  })
}

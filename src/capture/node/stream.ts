import type { Readable } from 'node:stream'
import type { Source } from '../source.ts'

/** Standard input, or any stream of lines; it ends for good when the stream does. */
export function streamSource(stream: Readable, name = 'standard input'): Source {
  return {
    kind: 'stream',
    name,
    run: (listener, stop) =>
      new Promise(resolve => {
        const done = (): void => {
          stream.off('data', take)
          stream.pause()
          resolve(null)
        }
        const take = (chunk: Buffer | string): void =>
          listener.bytes(new Uint8Array(typeof chunk === 'string' ? Buffer.from(chunk) : chunk))
        stream.on('data', take)
        stream.once('end', done)
        stream.once('close', done)
        stream.once('error', error =>
          resolve({
            where: name,
            what: `it cannot be read (${error.message}).`,
            cure: 'Check what is piped into it.',
          }),
        )
        if (stop.aborted) done()
        else stop.addEventListener('abort', done, { once: true })
        listener.opened()
      }),
    send: null,
  }
}

import type { Problem } from '../../core/problem.ts'
import type { Source, SourceListener } from '../source.ts'
import { unplugged } from './serialWords.ts'

/** What this needs of a page that has a serial port open. */
export interface PageEnd {
  /** Says a line to the device. */
  say(line: string): void
  /** The line is closed: the page lets the port go. */
  close(): void
}

/** What a page that was let in tells. */
export interface PageFeed {
  bytes(chunk: Uint8Array): void
  /** `unplugged`: the device went away; `left`: the page did. */
  gone(how: 'unplugged' | 'left'): void
}

/**
 * The place of the one page that reads a serial port in the browser and hands its bytes on. A page that goes
 * and comes back is a cable that was pulled and put back.
 */
export interface PagePort {
  readonly isTaken: boolean
  /** Lets a page in; `null` while another one is. */
  join(end: PageEnd): PageFeed | null
  /** The line over the page that is in; `null` where none is. */
  source(name: string): Source | null
}

export function pagePort(): PagePort {
  let page: PageEnd | null = null
  let line: { readonly name: string; readonly listener: SourceListener } | null = null
  return {
    get isTaken() {
      return page !== null
    },
    join(end) {
      if (page !== null) return null
      page = end
      line?.listener.opened()
      return {
        bytes(chunk) {
          if (page === end) line?.listener.bytes(chunk)
        },
        gone(how) {
          if (page !== end) return
          page = null
          line?.listener.lost(how === 'unplugged' ? unplugged(line.name) : left(line.name))
        },
      }
    },
    source(name) {
      if (page === null) return null
      return {
        kind: 'page',
        name,
        run: (listener, stop) =>
          new Promise(resolve => {
            line = { name, listener }
            listener.opened()
            const end = (): void => {
              line = null
              page?.close()
              page = null
              resolve(null)
            }
            if (stop.aborted) end()
            else stop.addEventListener('abort', end, { once: true })
          }),
        send: text => page?.say(text),
      }
    },
  }
}

const left = (where: string): Problem => ({
  where,
  what: 'the page that reads the port was closed or lost its way to the server.',
  cure: 'Open the place Pull in that browser again: it takes the port again by itself, and the recording goes on.',
})

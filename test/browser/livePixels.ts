import type { Page } from 'playwright-core'

/** A message of live figures as a page saw it. */
export interface Seen {
  /** The number of its last sample, which the device says in a column of its own, the first beside time and force. */
  readonly sample: number
  /** When the message came, and when its force was on the screen; milliseconds since 1970. */
  readonly cameMs: number
  readonly shownMs: number
}

/** Milliseconds since 1970 on the clock that `Seen` counts by, finer than a whole one. */
export const nowMs = (): number => performance.timeOrigin + performance.now()

/**
 * To be run in a page before its own scripts: notes when figures come, and when the frame after the one that drew them
 * begins. What came before the first stroke of a frame is drawn in it: the page reads its store in the frame itself.
 */
export const WATCH_PIXELS = `
  globalThis.watched = { seen: [], frames: 0, waiting: [], painted: [] }
  const nowMs = () => performance.timeOrigin + performance.now()
  const note = data => {
    if (typeof data !== 'string' || !data.startsWith('{"kind":"figures"')) return
    const sample = JSON.parse(data).figures.channels[0]?.value
    if (typeof sample === 'number') watched.waiting.push({ sample, cameMs: nowMs() })
  }
  // Without a server the stream comes from a thread of the page.
  const plain = Object.getOwnPropertyDescriptor(MessagePort.prototype, 'onmessage')
  Object.defineProperty(MessagePort.prototype, 'onmessage', {
    ...plain,
    set(listener) {
      plain.set.call(this, listener && (event => { note(event.data); listener.call(this, event) }))
    },
  })
  const Plain = WebSocket
  globalThis.WebSocket = class extends Plain {
    constructor(...given) {
      super(...given)
      this.addEventListener('message', ({ data }) => note(data))
    }
  }
  const stroke = CanvasRenderingContext2D.prototype.stroke
  CanvasRenderingContext2D.prototype.stroke = function (...given) {
    if (watched.waiting.length > 0) {
      watched.painted.push(...watched.waiting)
      watched.waiting = []
    }
    return stroke.apply(this, given)
  }
  const look = () => {
    watched.frames++
    const shownMs = nowMs()
    for (const painted of watched.painted) watched.seen.push({ ...painted, shownMs })
    watched.painted = []
    requestAnimationFrame(look)
  }
  requestAnimationFrame(look)
`

/** Forgets what was seen so far, also what has come and is not drawn yet. */
export const forgetSeen = (page: Page): Promise<unknown> =>
  page.evaluate('Object.assign(watched, { seen: [], frames: 0, waiting: [], painted: [] })')

export const seenOn = (page: Page): Promise<Seen[]> => page.evaluate<Seen[]>('watched.seen')

/** Frames since `forgetSeen`. */
export const framesOn = (page: Page): Promise<number> => page.evaluate<number>('watched.frames')

/** By how many milliseconds each sample that both saw was on the second screen later than on the first. */
export function laterMs(first: readonly Seen[], second: readonly Seen[]): number[] {
  const thereMs = new Map(second.map(one => [one.sample, one.shownMs]))
  return first.flatMap(one => {
    const ms = thereMs.get(one.sample)
    return ms === undefined ? [] : [ms - one.shownMs]
  })
}

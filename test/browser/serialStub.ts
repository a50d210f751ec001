import type { Page } from 'playwright-core'

/**
 * A stub of the browser's serial interface, in the test's own hands: `bench.say`, `bench.unplug`, `bench.plugIn`. It is
 * plugged in still after a reload, and given to this page once it was chosen. `bench.run(linesPerS)` lets a worker say
 * lines by itself, as a converter would: `SAMPLE,FORCE` with the sample's number, and the moment of each in `bench.due`.
 */
export const SERIAL_STUB = `
  const kept = 'stub.given'
  let isThere = true
  let feed = null
  let running = null
  const port = {
    readable: null,
    writable: null,
    async open({ baudRate }) {
      if (!isThere) throw new DOMException('no device', 'NetworkError')
      if (this.readable) throw new DOMException('open already', 'InvalidStateError')
      bench.opened.push(baudRate)
      this.readable = new ReadableStream({ start: controller => { feed = controller } })
    },
    async close() {
      if (this.readable?.locked) throw new TypeError('its reader holds it')
      this.readable = null
      feed = null
    },
    getInfo: () => ({ usbVendorId: 0x1a86, usbProductId: 0x7523 }),
  }
  const GENERATOR = \`
    let sample = 0
    onmessage = ({ data: { linesPerS, restS, header } }) => {
      const begunMs = performance.now()
      if (header) postMessage({ text: header, from: 0, to: 0, atMs: performance.timeOrigin + begunMs })
      const force = t => {
        const within = Math.max(0, t - restS) % 6
        return within < 3 ? 0 : within < 5.5 ? 20 * (within - 3) : 0
      }
      setInterval(() => {
        const due = Math.floor((performance.now() - begunMs) / 1000 * linesPerS)
        if (due <= sample) return
        let text = ''
        const from = sample
        for (; sample < due; sample++) {
          const t = sample / linesPerS
          text += (t * 1000).toFixed(0) + ',' + (force(t) + 0.01 * (sample % 5)).toFixed(2) + ',' + sample + '\\\\n'
        }
        postMessage({ text, from, to: sample, atMs: performance.timeOrigin + performance.now() })
      }, 4)
    }\`
  globalThis.bench = {
    opened: [],
    /** Number of the next sample, and when the last of them were said. */
    said: 0,
    due: [],
    say: text => feed?.enqueue(new TextEncoder().encode(text)),
    run(linesPerS, restS = 3) {
      running = new Worker(URL.createObjectURL(new Blob([GENERATOR])))
      running.onmessage = ({ data }) => {
        bench.say(data.text)
        bench.said = data.to
        bench.due.push([data.to, data.atMs])
        if (bench.due.length > 200000) bench.due.splice(0, 100000)
      }
      running.postMessage({ linesPerS, restS, header: 'time_ms,force_N,sample\\n' })
    },
    halt() { running?.terminate() },
    unplug() {
      isThere = false
      port.readable = null
      feed?.error(new DOMException('The device has been lost.', 'NetworkError'))
      feed = null
    },
    plugIn() { isThere = true },
    get isOpen() { return port.readable !== null },
  }
  const serial = {
    async requestPort() {
      if (!navigator.userActivation.isActive) throw new DOMException('not by a press', 'SecurityError')
      sessionStorage.setItem(kept, 'yes')
      return port
    },
    getPorts: async () => (isThere && sessionStorage.getItem(kept) ? [port] : []),
  }
  Object.defineProperty(Navigator.prototype, 'serial', { get: () => serial, configurable: true })
`

/** A converter that says its force 50 times a second, by its own clock. */
export function converter(page: Page) {
  let atMs = 0
  return {
    say: (text: string) => page.evaluate(`bench.say(${JSON.stringify(text)})`),
    async says(forS: number, force: (t: number) => number) {
      let text = ''
      for (let t = 0; t < forS - 1e-9; t += 0.02, atMs += 20)
        text += `${atMs},${(force(t) + 0.01 * (atMs % 3)).toFixed(2)}\n`
      await this.say(text)
    },
  }
}

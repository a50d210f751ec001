import type { Source, SourceListener } from '../../src/capture/index.ts'
import type { Problem } from '../../src/core/problem.ts'

export interface HandSource extends Source {
  /** Bytes as one read would bring them. */
  say(text: string | Uint8Array): void
  lose(): void
  comeBack(): void
  /** The line ends for good. */
  hangUp(): void
  /** What was said to the device. */
  readonly heard: string[]
}

/** A line in the test's own hands. */
export function handSource(): HandSource {
  const heard: string[] = []
  const pulled: Problem = { where: 'hand', what: 'the cable was pulled.', cure: 'Put it back.' }
  let listener: SourceListener | null = null
  let hangUp = (): void => {}
  return {
    kind: 'stream',
    name: 'hand line',
    heard,
    send: line => void heard.push(line),
    run(given, stop) {
      listener = given
      return new Promise(resolve => {
        hangUp = () => resolve(null)
        stop.addEventListener('abort', hangUp)
        given.opened()
      })
    },
    say: text => listener?.bytes(typeof text === 'string' ? new TextEncoder().encode(text) : text),
    lose: () => listener?.lost(pulled),
    comeBack: () => listener?.opened(),
    hangUp: () => hangUp(),
  }
}

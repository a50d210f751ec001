import { wrap } from 'comlink'
import { Trouble } from '../data/trouble.ts'
import { texts } from '../texts/index.ts'
import type { Engine } from './types.ts'

type Call = (...given: readonly unknown[]) => Promise<unknown>

/** The engine of a worker, to be called like any other object. A worker that cannot be started is told at every call. */
export function engineIn<E extends Engine = Engine>(worker: Worker): E {
  const remote = wrap<E>(worker) as unknown as Record<string, Call>
  const waiting = new Set<(error: Trouble) => void>()
  let fault: Trouble | null = null
  worker.addEventListener('error', event => {
    // A fault inside the engine comes as an answer, and an uncaught one has a message; this one never began.
    if (event instanceof ErrorEvent) return
    fault = new Trouble([texts.app.engineGone])
    for (const give of waiting) give(fault)
  })
  return new Proxy({} as E, {
    get: (_, name) => (typeof name === 'string' ? callOf(name) : undefined),
  })

  function callOf(name: string): Call {
    return (...given) =>
      new Promise((resolve, reject) => {
        if (fault) {
          reject(fault)
          return
        }
        waiting.add(reject)
        remote[name]!(...given)
          .then(resolve, reject)
          .finally(() => waiting.delete(reject))
      })
  }
}

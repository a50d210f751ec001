import { faultText } from '../core/problem.ts'
import type { LiveMessage } from './types.ts'

export type LiveListener = (message: LiveMessage) => void

export interface Deliverer {
  add(listener: LiveListener): () => void
  send(message: LiveMessage): void
}

/**
 * Hands messages to everyone who listens. A listener that throws is named and switched off; capture goes on.
 */
export function deliverer(nowS: () => number): Deliverer {
  const listeners = new Set<LiveListener>()
  const send = (message: LiveMessage): void => {
    for (const listener of listeners) {
      try {
        listener(message)
      } catch (error) {
        listeners.delete(listener)
        const why = faultText(error)
        send({
          kind: 'note',
          atS: nowS(),
          of: 'told',
          text: `A viewer failed and is switched off; capture goes on. (${why})`,
        })
      }
    }
  }
  return {
    add(listener) {
      listeners.add(listener)
      return () => void listeners.delete(listener)
    },
    send,
  }
}

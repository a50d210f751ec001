import type { FastifyInstance } from 'fastify'
import { fine, type Outcome, wrong } from '../core/problem.ts'
import { type ScreenTokens, screenTokens } from './screens.ts'

/** Where second screens are let in; shut until somebody at the bench opens it. */
export interface ScreenDoor {
  readonly isOpen: boolean
  /** Lets screens of the local network in from now on, by their codes; at once where that is so already. */
  open(): Promise<Outcome<null>>
  /** A fresh code, and the addresses at which it lets one screen in; no address while the door is shut. */
  newCode(): { readonly code: string; readonly links: readonly string[] }
  stop(): Promise<void>
}

/**
 * `listen` answers on the local network, with what a screen may ask; `addresses` are those of this computer there, `portOf`
 * the port that it came to answer on.
 */
export function screenDoor(on: {
  readonly listen: (screens: ScreenTokens) => Promise<Outcome<FastifyInstance>>
  readonly addresses: () => readonly string[]
  readonly portOf: (viewers: FastifyInstance) => number
}): ScreenDoor {
  const screens = screenTokens()
  let viewers: FastifyInstance | null = null
  let opening: Promise<Outcome<null>> | null = null
  const open = async (): Promise<Outcome<null>> => {
    if (on.addresses().length === 0)
      return wrong({
        where: 'second screen',
        what: 'this computer has no address in a local network.',
        cure: 'Connect it to the network of the phone, and try again.',
      })
    const listening = await on.listen(screens)
    if (!listening.ok) return listening
    viewers = listening.value
    return fine(null)
  }
  return {
    get isOpen() {
      return viewers !== null
    },
    open() {
      if (viewers !== null) return Promise.resolve(fine(null))
      opening ??= open().finally(() => {
        opening = null
      })
      return opening
    },
    newCode() {
      const code = screens.newCode()
      const port = viewers && on.portOf(viewers)
      return {
        code,
        links: port === null ? [] : on.addresses().map(address => `http://${address}:${port}/join/${code}`),
      }
    },
    async stop() {
      await opening
      await viewers?.close()
    },
  }
}

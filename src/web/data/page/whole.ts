import type { PageEngine } from '../../line/types.ts'
import type { Backend } from '../backend.ts'
import { got } from '../trouble.ts'
import { nowIso } from './db.ts'

/** When everything was last saved as a file: of this browser, and so not among what goes into it. */
const KEY = 'tenterhook.savedAt'

/** All that the page keeps, as one file. It is made in the engine’s thread: a pull goes on meanwhile. */
export const pageWhole = (engine: PageEngine): Backend['whole'] => ({
  async save() {
    // What comes while it is made is not in it for certain.
    const at = nowIso()
    const file = got(await engine.saveWhole())
    localStorage.setItem(KEY, at)
    return file
  },
  savedAt: async () => localStorage.getItem(KEY),
  take: async file => got(await engine.takeWhole(file)),
})

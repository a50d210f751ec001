import type { Computer } from '../../capture/computer.ts'
import { isOpenHere } from '../../capture/journal/openHere.ts'
import { lockOf, pageFiles } from './pageFiles.ts'

/** Where journals lie, for people too. */
export const JOURNALS = 'the browser’s storage'

/** What a browser gives to a page: a storage for journals, and locks that tell whether another window writes one. */
export const pageComputer: Computer = {
  files: pageFiles,
  writer: () => ({ pid: 0, writer: { host: 'a page in a browser', began: null } }),
  async isInUse(path) {
    if (isOpenHere(path)) return true
    const { held = [] } = await navigator.locks.query()
    return held.some(({ name }) => name === lockOf(path))
  },
  freeMemoryBytes: () => null,
}

import { servePageEngine } from './engine/servePageEngine.ts'
import { serveLine } from './line/serveLine.ts'
import { servePageTelling } from './tell/worker/servePageTelling.ts'

/**
 * All threads of the page that opens from disk, each told by its name what it is. They are one script, since what they
 * share would else be in the file once for each.
 */
const THREADS: Readonly<Record<string, () => void>> = {
  engine: servePageEngine,
  line: serveLine,
  telling: servePageTelling,
}
THREADS[self.name]?.()

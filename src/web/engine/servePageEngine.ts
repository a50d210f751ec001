import { expose } from 'comlink'
import { readJournal } from '../../server/desk/readJournal.ts'
import { pageSamples } from '../data/page/db.ts'
import type { PageEngine } from '../line/types.ts'
import { makeEngine } from './makeEngine.ts'

/** Runs the engine of the page in this thread. */
export function servePageEngine(): void {
  const engine: PageEngine = {
    ...makeEngine(pageSamples),
    readJournal: async log => readJournal(log),
  }
  expose(engine)
}

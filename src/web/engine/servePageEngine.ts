import { expose } from 'comlink'
import { readJournal } from '../../server/desk/readJournal.ts'
import { takeArchive } from '../data/page/archive/take.ts'
import { writeArchive } from '../data/page/archive/write.ts'
import { pageSamples } from '../data/page/db.ts'
import { pageFiles } from '../line/pageFiles.ts'
import { readOnPage } from '../line/readOnPage.ts'
import { takeInPage } from '../line/takeIn.ts'
import type { PageEngine } from '../line/types.ts'
import { answered, makeEngine } from './makeEngine.ts'

/** Runs the engine of the page in this thread. */
export function servePageEngine(): void {
  const reads = makeEngine(pageSamples)
  const takeIn = takeInPage(readOnPage(reads))
  const engine: PageEngine = {
    ...reads,
    takeIn: (path, how) => answered(() => takeIn(path, how)),
    readJournal: journal => answered(() => readJournal(journal, pageFiles)),
    saveWhole: () => answered(async () => ({ ok: true, value: await writeArchive() })),
    takeWhole: file => answered(async () => ({ ok: true, value: await takeArchive(file) })),
  }
  expose(engine)
}

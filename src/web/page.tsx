import { startApp } from './app/startApp.tsx'
import { pageBackend } from './data/pageBackend.ts'
import { engineIn } from './engine/engineClient.ts'
import { pageLine } from './line/pageLine.ts'
import type { PageEngine } from './line/types.ts'
import PageWorker from './pageWorker.ts?worker&inline'

const engineWorker = new PageWorker({ name: 'engine' })
const engine = engineIn<PageEngine>(engineWorker)
const line = pageLine(new PageWorker({ name: 'line' }), engineWorker)
startApp({
  backend: pageBackend(engine),
  engine,
  line,
  openTelling: () => new PageWorker({ name: 'telling' }),
})

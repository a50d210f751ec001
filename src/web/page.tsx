import { startApp } from './app/startApp.tsx'
import { pageBackend } from './data/pageBackend.ts'
import { engineIn } from './engine/engineClient.ts'
import EngineWorker from './engine/pageWorker.ts?worker&inline'
import TellWorker from './tell/worker/pageTellWorker.ts?worker&inline'

const engine = engineIn(new EngineWorker())
startApp({ backend: pageBackend(engine), engine, openTelling: () => new TellWorker() })

import { startApp } from './app/startApp.tsx'
import { pageBackend } from './data/pageBackend.ts'
import { engineIn } from './engine/engineClient.ts'
import EngineWorker from './engine/pageWorker.ts?worker&inline'

const engine = engineIn(new EngineWorker())
startApp(pageBackend(engine), engine)

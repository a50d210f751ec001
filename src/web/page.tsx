import { startApp } from './app/startApp.tsx'
import { pageBackend } from './data/pageBackend.ts'
import EngineWorker from './engine/pageWorker.ts?worker&inline'

startApp(pageBackend, new EngineWorker())

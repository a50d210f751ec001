import { startApp } from './app/startApp.tsx'
import { serverBackend } from './data/serverBackend.ts'
import { engineIn } from './engine/engineClient.ts'

const worker = new Worker(new URL('./engine/serverWorker.ts', import.meta.url), { type: 'module' })
startApp(serverBackend, engineIn(worker))

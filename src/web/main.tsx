import { startApp } from './app/startApp.tsx'
import { serverBackend } from './data/serverBackend.ts'

startApp(serverBackend, new Worker(new URL('./engine/serverWorker.ts', import.meta.url), { type: 'module' }))

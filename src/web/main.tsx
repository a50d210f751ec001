import { startApp } from './app/startApp.tsx'
import { serverBackend } from './data/serverBackend.ts'
import { engineIn } from './engine/engineClient.ts'
import { serverLine } from './live/serverLine.ts'

// A second screen is let in to look on, and is told of nothing but the live stream.
if (location.pathname === '/screen') {
  void import('./pull/startScreen.tsx').then(({ startScreen }) => startScreen())
} else {
  const worker = new Worker(new URL('./engine/serverWorker.ts', import.meta.url), { type: 'module' })
  startApp({
    backend: serverBackend,
    engine: engineIn(worker),
    line: serverLine,
    openTelling: () =>
      new Worker(new URL('./tell/worker/serverTellWorker.ts', import.meta.url), { type: 'module' }),
  })
}

import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { App } from './App.tsx'
import type { Bench } from './context.tsx'
import '../theme/tokens.css'
import '../theme/base.css'
import './notebook.css'

/** Opens the app on the page: studies from a backend, read by an engine. */
export function startApp(bench: Bench): void {
  const place = document.getElementById('app')
  if (!place) throw new Error('the page has no element “app”')
  createRoot(place).render(
    <StrictMode>
      <App bench={bench} />
    </StrictMode>,
  )
}

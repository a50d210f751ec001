import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import type { Backend } from '../data/backend.ts'
import type { Engine } from '../engine/types.ts'
import { App } from './App.tsx'
import '../theme/tokens.css'
import '../theme/base.css'
import './notebook.css'

/** Opens the app on the page: studies from `backend`, read by `engine`. */
export function startApp(backend: Backend, engine: Engine): void {
  const place = document.getElementById('app')
  if (!place) throw new Error('the page has no element “app”')
  createRoot(place).render(
    <StrictMode>
      <App bench={{ backend, engine }} />
    </StrictMode>,
  )
}

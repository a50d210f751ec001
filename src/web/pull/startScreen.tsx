import { StrictMode } from 'react'
import { createRoot } from 'react-dom/client'
import { serverLine } from '../live/serverLine.ts'
import { LiveProvider } from '../live/useLive.tsx'
import { Guard } from '../parts/Guard.tsx'
import { texts } from '../texts/index.ts'
import { ScreenPage } from './ScreenPage.tsx'

/** Opens the page of a second screen, which knows the live stream and nothing else. */
export function startScreen(): void {
  const place = document.getElementById('app')
  if (!place) throw new Error('the page has no element “app”')
  document.title = `${texts.pull.second.heading} · ${texts.app.name}`
  createRoot(place).render(
    <StrictMode>
      <Guard name={texts.pull.second.heading}>
        <LiveProvider host={serverLine}>
          <ScreenPage />
        </LiveProvider>
      </Guard>
    </StrictMode>,
  )
}

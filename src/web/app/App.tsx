import { QueryClientProvider } from '@tanstack/react-query'
import { lazy, type ReactNode, Suspense, useState } from 'react'
import { Link, Route, Router, Switch } from 'wouter'
import { useHashLocation } from 'wouter/use-hash-location'
import { makeQueries } from '../data/makeQueries.ts'
import { LogsProvider } from '../import/LogsProvider.tsx'
import { RecoveredNotice } from '../keeping/RecoveredNotice.tsx'
import { Guard } from '../parts/Guard.tsx'
import { texts } from '../texts/index.ts'
import { Connection } from './Connection.tsx'
import { type Bench, BenchProvider } from './context.tsx'
import { PLACES } from './places.ts'
import { StudyPage } from './StudyPage.tsx'
import { SettingsProvider } from './settings.tsx'
import { FootProvider } from './undo.tsx'

const Shelf = lazy(() => import('../shelf/Shelf.tsx'))
const ImportPage = lazy(() => import('../import/ImportPage.tsx'))
const SettingsPage = lazy(() => import('../settings/SettingsPage.tsx'))

/** The whole app over one bench. */
export function App({ bench }: { bench: Bench }) {
  const [queries] = useState(makeQueries)
  return (
    <BenchProvider bench={bench}>
      <QueryClientProvider client={queries}>
        <SettingsProvider>
          <FootProvider>
            <Connection />
            <RecoveredNotice />
            <Router hook={useHashLocation}>
              <LogsProvider>
                <Switch>
                  <Route path="/">{room(texts.app.shelf, <Shelf />)}</Route>
                  <Route path="/import">{room(texts.import.title, <ImportPage />)}</Route>
                  <Route path="/settings">{room(texts.app.settings, <SettingsPage />)}</Route>
                  {PLACES.map(place => (
                    <Route key={place} path={`/study/:studyId/${place}/:specimenId?`}>
                      {({ studyId, specimenId }) => (
                        <StudyPage
                          key={studyId}
                          studyId={studyId ?? ''}
                          place={place}
                          specimenId={specimenId ?? null}
                        />
                      )}
                    </Route>
                  ))}
                  <Route>
                    <main className="notebook">
                      <p>{texts.app.notFound}</p>
                      <Link href="/">{texts.app.toShelf}</Link>
                    </main>
                  </Route>
                </Switch>
              </LogsProvider>
            </Router>
          </FootProvider>
        </SettingsProvider>
      </QueryClientProvider>
    </BenchProvider>
  )
}

const room = (name: string, children: ReactNode) => (
  <Guard name={name}>
    <Suspense fallback={<main className="notebook pencil">{texts.app.opening}</main>}>{children}</Suspense>
  </Guard>
)

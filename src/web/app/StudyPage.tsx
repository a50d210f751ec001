import { lazy, Suspense, useEffect } from 'react'
import { Link } from 'wouter'
import { useStudy } from '../data/queries.ts'
import { Guard } from '../parts/Guard.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { addressOf, type Place } from './places.ts'
import { Tabs } from './Tabs.tsx'

const ROOMS = {
  plan: lazy(() => import('../plan/PlanPlace.tsx')),
  rig: lazy(() => import('../rig/RigPlace.tsx')),
  pull: lazy(() => import('../pull/PullPlace.tsx')),
  read: lazy(() => import('../read/ReadPlace.tsx')),
  compare: lazy(() => import('../compare/ComparePlace.tsx')),
  tell: lazy(() => import('../tell/TellPlace.tsx')),
}

/** A study as a notebook, open at one of its places. */
export function StudyPage({
  studyId,
  place,
  specimenId,
}: {
  studyId: string
  place: Place
  specimenId: string | null
}) {
  const { data: open, error } = useStudy(studyId)
  const name = open?.study.name ?? ''
  useEffect(() => {
    document.title = name === '' ? texts.app.name : `${texts.app.places[place]} · ${name}`
  }, [name, place])
  const Room = ROOMS[place]
  return (
    <div className="notebook" data-place={place}>
      <header className="notebook-head">
        <Link href={addressOf.shelf}>{texts.app.shelf}</Link>
        <span>{name}</span>
        <Link href={addressOf.settings}>{texts.app.settings}</Link>
      </header>
      {/* What came last stays on the screen while the server is away. */}
      {!open && <Problems error={error} />}
      {open && <Tabs open={open} place={place} />}
      <main>
        {open ? (
          <Guard key={place} name={texts.app.places[place]}>
            <Suspense fallback={<p className="pencil">{texts.app.opening}</p>}>
              <Room open={open} specimenId={specimenId} />
            </Suspense>
          </Guard>
        ) : (
          !error && <p className="pencil">{texts.app.opening}</p>
        )}
      </main>
    </div>
  )
}

import { useEffect, useId, useRef, useState } from 'react'
import { Link } from 'wouter'
import { CARE } from '../../publish/care.ts'
import { addressOf } from '../app/places.ts'
import { useStudies } from '../data/queries.ts'
import { useLogs } from '../import/LogsProvider.tsx'
import { KeptHere } from '../keeping/KeptHere.tsx'
import { NextLine } from '../parts/NextLine.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { FoundRecordings } from './FoundRecordings.tsx'
import { NewStudyForm } from './NewStudyForm.tsx'
import { Spine } from './Spine.tsx'
import { shelved } from './shelved.ts'
import { Teaching } from './Teaching.tsx'
import './shelf.css'

/** The studies as the backs of notebooks on a shelf, before any is open. */
export default function Shelf() {
  const { data: studies, error } = useStudies()
  const { choose, state } = useLogs()
  const waiting = state.items.filter(({ kept }) => kept !== 'yes').length
  const [search, setSearch] = useState('')
  const [isMaking, setMaking] = useState(false)
  const id = useId()
  const newStudy = useRef<HTMLButtonElement>(null)
  useEffect(() => {
    document.title = `${texts.app.shelf} · ${texts.app.name}`
  }, [])
  const found = shelved(studies ?? [], search)
  const onShelf = found.filter(({ archived }) => !archived)
  const archived = found.filter(study => study.archived)
  const isEmpty = studies?.length === 0
  return (
    <div className="notebook shelf" data-place="shelf">
      <header className="notebook-head">
        <span>{texts.app.name}</span>
        <Link href={addressOf.settings}>{texts.app.settings}</Link>
      </header>
      <main>
        <NextLine>
          <span>{isEmpty ? texts.shelf.nextEmpty : texts.shelf.nextOpen}</span>
          <button type="button" className="button button-main" onClick={choose}>
            {texts.shelf.chooseLogs}
          </button>
        </NextLine>
        <h1>{texts.app.shelf}</h1>
        {waiting > 0 && (
          <p>
            {texts.shelf.waiting(waiting)} <Link href={addressOf.import}>{texts.shelf.toWaiting}</Link>
          </p>
        )}
        {!studies && <Problems error={error} />}
        {isEmpty && <Teaching />}
        {studies && !isEmpty && (
          <div className="shelf-search field">
            <label htmlFor={`${id}-search`}>{texts.shelf.search}</label>
            <input
              id={`${id}-search`}
              className="input"
              type="search"
              value={search}
              onChange={event => setSearch(event.target.value)}
            />
          </div>
        )}
        {studies && (
          <div className="shelf-new">
            <button
              ref={newStudy}
              type="button"
              className="button"
              aria-expanded={isMaking}
              onClick={() => setMaking(!isMaking)}
            >
              {texts.shelf.newStudy}
            </button>
            {isMaking && (
              <NewStudyForm
                onClose={() => {
                  setMaking(false)
                  newStudy.current?.focus()
                }}
              />
            )}
          </div>
        )}
        {onShelf.length > 0 && (
          <ul className="plain-list shelf-board" aria-label={texts.shelf.studies}>
            {onShelf.map(study => (
              <Spine key={study.id} study={study} />
            ))}
          </ul>
        )}
        {studies && search !== '' && found.length === 0 && (
          <p className="pencil">{texts.shelf.nothingFound(search)}</p>
        )}
        {search.trim().length > 1 && <FoundRecordings search={search.trim()} />}
        {archived.length > 0 && (
          <details className="shelf-archive" open={search !== '' || undefined}>
            <summary>{texts.shelf.archived(archived.length)}</summary>
            <ul className="plain-list shelf-board" aria-label={texts.shelf.archivedStudies}>
              {archived.map(study => (
                <Spine key={study.id} study={study} />
              ))}
            </ul>
          </details>
        )}
        <KeptHere />
        <Care />
      </main>
    </div>
  )
}

const Care = () => (
  <section className="shelf-care" aria-labelledby="care">
    <h2 id="care">{texts.app.careHeading}</h2>
    <ul>
      {CARE.map(sentence => (
        <li key={sentence}>{sentence}</li>
      ))}
    </ul>
  </section>
)

import { Link } from 'wouter'
import type { OpenStudy } from '../data/backend.ts'
import { texts } from '../texts/index.ts'
import { addressOf, PLACES, type Place } from './places.ts'
import { isDone } from './progress.ts'

/** The thumb tabs down the outer edge of the page. A small ring shows what is still missing in a place; filled, nothing is. */
export function Tabs({ open, place }: { open: OpenStudy; place: Place }) {
  return (
    <nav className="tabs" aria-label={texts.app.placesLabel}>
      {PLACES.map(name => {
        const done = isDone(open, name)
        return (
          <Link
            key={name}
            href={addressOf.place(open.study.id, name)}
            className="tab"
            aria-current={name === place ? 'page' : undefined}
          >
            {texts.app.places[name]}
            <span className="tab-mark" data-done={done} title={done ? texts.app.done : texts.app.missing}>
              <span className="hidden-words">{done ? texts.app.done : texts.app.missing}</span>
            </span>
          </Link>
        )
      })}
    </nav>
  )
}

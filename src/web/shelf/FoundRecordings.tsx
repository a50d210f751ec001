import { useQuery } from '@tanstack/react-query'
import { useEffect, useState } from 'react'
import { Link } from 'wouter'
import { useBench } from '../app/context.tsx'
import { addressOf } from '../app/places.ts'
import { KEYS } from '../data/queries.ts'
import { texts } from '../texts/index.ts'

const PAUSE_MS = 200
const SHOWN = 20

/** Recordings that hold the words of a search in their name, specimen, study or device. */
export function FoundRecordings({ search }: { search: string }) {
  const { backend } = useBench()
  const words = useSettled(search)
  const { data } = useQuery({
    queryKey: [...KEYS.recordings, 'search', words],
    queryFn: () => backend.recordings.list({ search: words, withSetAside: true, limit: SHOWN }),
  })
  if (!data || data.items.length === 0) return null
  return (
    <section className="shelf-found" aria-labelledby="found">
      <h2 id="found">{texts.shelf.recordings}</h2>
      <ul className="plain-list">
        {data.items.map(({ id, name, study, specimen, setAside }) => (
          <li key={id}>
            {study && specimen ? (
              <Link href={addressOf.specimen(study.id, specimen.id)}>{name}</Link>
            ) : (
              <span>{name}</span>
            )}{' '}
            <span className="pencil">
              {study && specimen ? texts.shelf.on(specimen.name, study.name) : texts.shelf.onNone}
              {setAside && ` ${texts.shelf.setAside(setAside.why)}`}
            </span>
          </li>
        ))}
      </ul>
      {data.next !== null && <p className="pencil">{texts.shelf.moreFound(SHOWN)}</p>}
    </section>
  )
}

/** A text once it has stood still for a moment. */
function useSettled(text: string): string {
  const [settled, setSettled] = useState(text)
  useEffect(() => {
    const timer = setTimeout(() => setSettled(text), PAUSE_MS)
    return () => clearTimeout(timer)
  }, [text])
  return settled
}

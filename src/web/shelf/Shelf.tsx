import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { useStudies } from '../data/queries.ts'
import { NextLine } from '../parts/NextLine.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'

export default function Shelf() {
  const { data: studies, error } = useStudies()
  return (
    <main className="notebook">
      <NextLine>{texts.shelf.next}</NextLine>
      <h1>{texts.app.name}</h1>
      <Problems error={error} />
      <ul className="plain-list">
        {studies?.map(study => (
          <li key={study.id}>
            <Link href={addressOf.place(study.id, 'read')}>{study.name}</Link>
          </li>
        ))}
      </ul>
    </main>
  )
}

import { useQuery } from '@tanstack/react-query'
import { Link } from 'wouter'
import { useBench } from '../app/context.tsx'
import { addressOf } from '../app/places.ts'
import { texts } from '../texts/index.ts'

/** Which version this is, and where the studies lie. */
export function About() {
  const { backend } = useBench()
  const { data } = useQuery({ queryKey: ['about'], queryFn: () => backend.about() })
  const t = texts.settings
  return (
    <section aria-labelledby="about" className="settings-part">
      <h2 id="about">{t.about}</h2>
      {data && (
        <dl className="settings-about">
          <dt>{t.version}</dt>
          <dd>{data.version}</dd>
          <dt>{t.store}</dt>
          <dd>{data.store === '' ? t.inBrowser : data.store}</dd>
        </dl>
      )}
      {data && data.store !== '' && (
        <p className="pencil">
          {t.backUp} <Link href={addressOf.shelf}>{texts.app.toShelf}</Link>
        </p>
      )}
    </section>
  )
}

import { useCallback, useState } from 'react'
import { encode } from 'uqr'
import { useLine } from '../live/useLive.tsx'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'

const words = texts.pull.second

/** A code to scan with a phone, which then shows the same live view. */
export default function SecondScreen({ onClose }: { onClose: () => void }) {
  const { screenLinks } = useLine()
  const [links, setLinks] = useState<readonly string[]>([])
  const [error, setError] = useState<unknown>(null)
  const ask = useCallback(() => {
    setError(null)
    screenLinks?.().then(({ links: given }) => setLinks(given), setError)
  }, [screenLinks])
  return (
    <section className="pull-second" aria-labelledby="pull-second">
      <h2 id="pull-second">{words.heading}</h2>
      {screenLinks === null ? (
        <p>
          {texts.pull.noServer.what} {texts.pull.noServer.how}
        </p>
      ) : (
        <p>{words.what}</p>
      )}
      <Problems error={error} />
      {links.map(link => (
        <figure key={link}>
          <QrCode link={link} />
          <figcaption className="small pull-link">{link}</figcaption>
        </figure>
      ))}
      <div className="row">
        {screenLinks !== null && (
          <button
            type="button"
            className={links.length === 0 ? 'button button-main' : 'button'}
            onClick={ask}
          >
            {links.length === 0 ? words.first : words.more}
          </button>
        )}
        <button type="button" className="button" onClick={onClose}>
          {words.close}
        </button>
      </div>
    </section>
  )
}

function QrCode({ link }: { link: string }) {
  const { data, size } = encode(link, { border: 4 })
  const d = data.flatMap((row, y) => row.map((isDark, x) => (isDark ? `M${x} ${y}h1v1h-1z` : ''))).join('')
  return (
    <svg className="pull-qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={words.qr(link)}>
      <rect width={size} height={size} fill="#ffffff" />
      <path d={d} fill="#000000" shapeRendering="crispEdges" />
    </svg>
  )
}

import { useEffect, useState } from 'react'
import { useBench } from '../app/context.tsx'
import type { Recovered } from '../live/lineHost.ts'
import { texts } from '../texts/index.ts'

const t = texts.keeping

/** Told once, when the page is opened: what was made whole of recordings that a window left behind. */
export function RecoveredNotice() {
  const { line } = useBench()
  const [found, setFound] = useState<Recovered | null>(null)
  useEffect(() => {
    line.recovered?.then(setFound, () => {
      // The thread could not be started: the place Pull says so.
    })
  }, [line])
  if (found === null || (found.recordings.length === 0 && found.problems.length === 0)) return null
  const samples = found.recordings.reduce((n, recording) => n + recording.samples, 0)
  return (
    <div className="trouble" role="status" data-recovered={found.recordings.length}>
      {found.recordings.length > 0 && (
        <p>
          {t.recovered(found.recordings.length, samples)}{' '}
          {found.recordings.map(({ name }) => name).join(', ')}
        </p>
      )}
      {found.problems.map(({ where, what, cure }) => (
        <p key={`${where} ${what}`}>
          <strong>{where}:</strong> {what} {cure}
        </p>
      ))}
      <button type="button" className="button" onClick={() => setFound(null)}>
        {t.seen}
      </button>
    </div>
  )
}

import type { Placement, Sync } from '../../../publish/sync/document.ts'
import { nudged } from '../../../publish/sync/place.ts'
import { clipTimeWords, secondsWords, sureWords } from '../../../publish/sync/words.ts'
import { texts } from '../../texts/index.ts'

const t = texts.tell
const STEP_S = 0.1

/** Where each recording lies in the film, how sure that is, to be taken or moved by hand. */
export function Placements({ sync, onChange }: { sync: Sync; onChange: (sync: Sync) => void }) {
  const put = (at: number, placement: Placement) =>
    onChange({ ...sync, placements: sync.placements.with(at, placement) })
  return (
    <>
      <h4>{t.places}</h4>
      <ul className="plain-list tell-places">
        {sync.placements.map((one, at) => {
          const { name } = one.recording
          const doubt = one.uncertaintyS === null ? null : secondsWords(one.uncertaintyS)
          return (
            <li key={`${one.recording.sha256} ${one.fromS}`}>
              <p>
                <strong>{name}</strong> {t.placedAt(clipTimeWords(one.offsetS), doubt)}{' '}
                <span className="pencil">({one.accepted ? t.taken : t.notTaken})</span>
              </p>
              <p className={one.confident || one.accepted ? 'pencil' : 'warning'}>{sureWords(one)}</p>
              <div className="row">
                {!one.accepted && (
                  <button
                    type="button"
                    className="button"
                    onClick={() => put(at, { ...one, accepted: true })}
                  >
                    {t.accept}
                    <span className="hidden-words"> {name}</span>
                  </button>
                )}
                <button
                  type="button"
                  className="button"
                  aria-label={t.earlier(name)}
                  onClick={() => put(at, nudged(one, -STEP_S))}
                >
                  − {STEP_S} s
                </button>
                <button
                  type="button"
                  className="button"
                  aria-label={t.later(name)}
                  onClick={() => put(at, nudged(one, STEP_S))}
                >
                  + {STEP_S} s
                </button>
              </div>
            </li>
          )
        })}
      </ul>
      {sync.notPlaced.length > 0 && (
        <details>
          <summary>{t.notFound(sync.notPlaced.length)}</summary>
          <ul>
            {sync.notPlaced.map(({ recording, fromS, why }) => (
              <li key={`${recording.sha256} ${fromS}`}>{t.notPlaced(recording.name, why)}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  )
}

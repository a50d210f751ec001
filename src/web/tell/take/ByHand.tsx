import { useState } from 'react'
import type { Sync } from '../../../publish/sync/document.ts'
import { got } from '../../data/trouble.ts'
import { texts } from '../../texts/index.ts'
import { TaskButton } from '../task.tsx'
import { useTold } from '../told.tsx'
import type { Film } from './film.ts'

const t = texts.tell

/** Places a specimen in the film by hand, instead of where it was heard. */
export function ByHand({
  film,
  specimen,
  lengthS,
  sync,
  onPlace,
}: {
  film: Film
  specimen: string
  lengthS: number | null
  sync: Sync | null
  onPlace: (sync: Sync) => void
}) {
  const { told, telling } = useTold()
  const [typed, setTyped] = useState('')
  const offsetS = /^\s*[-−]?\d+(?:[.,]\d+)?\s*$/.test(typed)
    ? Number(typed.trim().replace(',', '.').replace('−', '-'))
    : null
  return (
    <>
      <label className="tell-pick">
        <span className="label">{t.beginsAt}</span>
        <input
          className="input"
          inputMode="decimal"
          value={typed}
          aria-invalid={typed !== '' && offsetS === null}
          onChange={event => setTyped(event.target.value)}
        />
        {typed !== '' && offsetS === null && <span className="warning small">{t.badNumber}</span>}
      </label>
      <TaskButton
        name="film-hand"
        disabled={telling === null || offsetS === null}
        work={async () => {
          const hand = got(
            await telling!.placed(told, specimen, { name: film.name, lengthS, offsetS: offsetS ?? 0 }),
          )
          onPlace(sync === null ? hand : beside(sync, hand))
        }}
      >
        {t.placeIt}
      </TaskButton>
    </>
  )
}

/** The places that were heard, with that by hand in the place of its recording's. */
function beside(sync: Sync, hand: Sync): Sync {
  const own = new Set(hand.placements.map(one => one.recording.sha256))
  return {
    ...sync,
    placements: [...sync.placements.filter(one => !own.has(one.recording.sha256)), ...hand.placements].sort(
      (a, b) => a.offsetS - b.offsetS,
    ),
    notPlaced: sync.notPlaced.filter(one => !own.has(one.recording.sha256)),
  }
}

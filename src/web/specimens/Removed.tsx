import { useRemovedSpecimens } from '../data/queries.ts'
import { texts } from '../texts/index.ts'
import type { SpecimenEdits } from './useSpecimenEdits.ts'

const t = texts.specimens

/** Specimens that were removed: nothing of them is deleted. */
export function Removed({ studyId, edits }: { studyId: string; edits: SpecimenEdits }) {
  const { data = [] } = useRemovedSpecimens(studyId)
  if (data.length === 0) return null
  return (
    <section aria-label={t.removedHeading(data.length)}>
      <h3>{t.removedHeading(data.length)}</h3>
      <ul className="plain-list">
        {data.map(({ id, name }) => (
          <li key={id} className="row">
            <span>{name}</span>
            <button
              type="button"
              className="button button-plain"
              aria-label={`${t.bringBack}: ${name}`}
              disabled={edits.isBusy}
              onClick={() =>
                void edits.apply([{ kind: 'bring-back', specimenId: id }], t.broughtBack(t.names([name])))
              }
            >
              {t.bringBack}
            </button>
          </li>
        ))}
      </ul>
    </section>
  )
}

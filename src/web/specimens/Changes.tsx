import { useEdits } from '../data/queries.ts'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { useSpecimenEdits } from './useSpecimenEdits.ts'

const words = texts.read.facts
const SHOWN = 100

/** What was changed of the study's specimens, by whom; each can be taken back, whenever it was made. */
export function Changes({ studyId }: { studyId: string }) {
  const { data = [] } = useEdits(studyId)
  const { turn, isBusy, error } = useSpecimenEdits(studyId)
  if (data.length === 0) return null
  return (
    <details className="folded">
      <summary>{words.changes(data.length)}</summary>
      <Problems error={error} />
      <ul className="small specimens-changes">
        {data.slice(0, SHOWN).map(({ id, madeAt, who, what, takenBackAt }) => (
          <li key={id} data-taken-back={takenBackAt !== null}>
            <span>{words.changedBy(what, who, madeAt.slice(0, 16).replace('T', ' '))}</span>{' '}
            <button
              type="button"
              className="button button-plain"
              aria-label={`${takenBackAt === null ? words.takeBack : words.doAgain}: ${what}`}
              disabled={isBusy}
              onClick={() => turn({ id, way: takenBackAt === null ? 'back' : 'again' })}
            >
              {takenBackAt === null ? words.takeBack : words.doAgain}
            </button>
          </li>
        ))}
      </ul>
    </details>
  )
}

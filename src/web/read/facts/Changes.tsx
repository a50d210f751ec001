import type { Edited } from '../../../server/apiTypes.ts'
import type { Backend } from '../../data/backend.ts'
import { useChange, useEdits } from '../../data/queries.ts'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'

const words = texts.read.facts
const SHOWN = 30

/** What was changed of the study's specimens, by whom; each can be taken back, whenever it was made. */
export function Changes({ studyId, edits }: { studyId: string; edits: NonNullable<Backend['edits']> }) {
  const { data = [] } = useEdits(studyId)
  const turning = useChange<{ id: string; way: 'back' | 'again' }, Edited>((_, { id, way }) =>
    edits.turn(studyId, id, way),
  )
  if (data.length === 0) return null
  return (
    <details>
      <summary>{words.changes(data.length)}</summary>
      <Problems error={turning.error} />
      <ul className="small">
        {data.slice(0, SHOWN).map(({ id, madeAt, who, what, takenBackAt }) => (
          <li key={id}>
            {words.changedBy(what, who, madeAt.slice(0, 16).replace('T', ' '))}{' '}
            <button
              type="button"
              className="button button-plain"
              disabled={turning.isPending}
              onClick={() => turning.mutate({ id, way: takenBackAt === null ? 'back' : 'again' })}
            >
              {takenBackAt === null ? words.takeBack : words.doAgain}
            </button>
          </li>
        ))}
      </ul>
    </details>
  )
}

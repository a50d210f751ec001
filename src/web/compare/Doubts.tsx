import type { Answer } from '../../core/answer/document.ts'
import { useMark } from '../app/units.tsx'
import { texts } from '../texts/index.ts'

/** Doubts that stand open; the others are a press away. */
const MOST_OPEN = 3

/** What a reader must know before believing the answer, the gravest first. */
export function Doubts({ doubts }: Pick<Answer, 'doubts'>) {
  const [open, more] = [doubts.slice(0, MOST_OPEN), doubts.slice(MOST_OPEN)]
  if (open.length === 0) return null
  return (
    <div className="answer-doubts">
      <Lines doubts={open} />
      {more.length > 0 && (
        <details>
          <summary>{texts.compare.moreDoubts(more.length)}</summary>
          <Lines doubts={more} />
        </details>
      )}
    </div>
  )
}

function Lines({ doubts }: Pick<Answer, 'doubts'>) {
  const mark = useMark()
  return (
    <ul className="plain-list warning">
      {doubts.map(({ code, text }) => (
        <li key={`${code} ${text}`}>{mark(text)}</li>
      ))}
    </ul>
  )
}

import { useId, useState } from 'react'
import type { OpenStudy } from '../data/backend.ts'
import type { StudyChange } from '../data/useStudyChange.ts'
import { Answered } from '../parts/Answered.tsx'
import { Needed } from '../parts/Needed.tsx'
import { texts } from '../texts/index.ts'

const t = texts.plan

/** The short list that every specimen's failure mode is taken from. */
export function FailureModes({ open, change }: { open: OpenStudy; change: StudyChange['change'] }) {
  const id = useId()
  const [typed, setTyped] = useState('')
  const { failureModes } = open.study
  const used = new Set(open.specimens.map(specimen => specimen.failureMode))
  return (
    <Answered
      heading={t.modes}
      answer={failureModes.length === 0 ? t.notWritten : failureModes.join(', ')}
      className="not-printed"
    >
      <p className="pencil">{t.modesWhat}</p>
      <ul className="plain-list plan-modes">
        {failureModes.map(mode => (
          <li key={mode}>
            <span>{mode}</span>
            {used.has(mode) ? (
              <span className="pencil small">{t.modeUsed}</span>
            ) : (
              <button
                type="button"
                className="button button-plain"
                onClick={() =>
                  change({ failureModes: failureModes.filter(other => other !== mode) }, t.didRemove(mode))
                }
              >
                {t.remove}
                <span className="hidden-words">{mode}</span>
              </button>
            )}
          </li>
        ))}
      </ul>
      <form
        className="row plan-add"
        onSubmit={event => {
          event.preventDefault()
          const mode = typed.trim()
          setTyped('')
          if (mode !== '' && !failureModes.includes(mode))
            change({ failureModes: [...failureModes, mode] }, t.didAddMode(mode))
        }}
      >
        <label htmlFor={`${id}-new`}>{t.newMode}</label>
        <Needed />
        <input
          id={`${id}-new`}
          required
          className="input"
          value={typed}
          maxLength={200}
          onChange={event => setTyped(event.target.value)}
        />
        <button type="submit" className="button">
          {t.addMode}
        </button>
      </form>
    </Answered>
  )
}

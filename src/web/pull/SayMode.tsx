import { type FormEvent, useId, useState } from 'react'
import type { Specimen, Study } from '../../server/apiTypes.ts'
import { Needed } from '../parts/Needed.tsx'
import { texts } from '../texts/index.ts'
import type { Pull } from './usePull.ts'

const words = texts.pull

/** How the specimen failed, said at the bench: the ways of the study as large buttons, any other in words. */
export function SayMode({ study, specimen, pull }: { study: Study; specimen: Specimen; pull: Pull }) {
  const id = useId()
  const [typed, setTyped] = useState('')
  const { failureMode } = specimen
  const modes =
    failureMode === null || study.failureModes.includes(failureMode)
      ? study.failureModes
      : [...study.failureModes, failureMode]
  const keep = (event: FormEvent) => {
    event.preventDefault()
    const mode = typed.trim()
    if (mode === '') return
    setTyped('')
    void pull.sayMode(mode)
    // Space goes on with the pull again.
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur()
  }
  return (
    <fieldset className="pull-modes">
      <legend>{words.failureMode}</legend>
      <div className="row">
        {modes.map((mode, i) => (
          <button
            key={mode}
            type="button"
            className="button"
            aria-pressed={failureMode === mode}
            onClick={() => void pull.sayMode(failureMode === mode ? null : mode)}
          >
            {i < 9 && <kbd>{i + 1}</kbd>} {mode}
          </button>
        ))}
      </div>
      <form className="pull-other" onSubmit={keep}>
        <label htmlFor={`${id}-other`}>{modes.length === 0 ? words.noMode : words.otherMode}</label>
        <Needed />
        <span className="row">
          <input
            id={`${id}-other`}
            required
            className="input"
            list={`${id}-modes`}
            value={typed}
            maxLength={200}
            autoComplete="off"
            enterKeyHint="done"
            onChange={event => setTyped(event.target.value)}
          />
          <button type="submit" className="button">
            {words.keepMode}
          </button>
        </span>
        <datalist id={`${id}-modes`}>
          {modes.map(mode => (
            <option key={mode} value={mode} />
          ))}
        </datalist>
      </form>
    </fieldset>
  )
}

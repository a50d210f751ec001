import { type FormEvent, useState } from 'react'
import type { Specimen, Study } from '../../../server/apiTypes.ts'
import { useChange } from '../../data/queries.ts'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import { Field } from '../adjust/Field.tsx'
import { MODE_ID } from '../ids.ts'
import type { useSpecimenChange } from './useSpecimenChange.ts'

const words = texts.read.facts

/** How the specimen failed, from the short list of the study, which can be added to. */
export function FailureMode({
  study,
  specimen,
  change,
}: {
  study: Study
  specimen: Specimen
  change: ReturnType<typeof useSpecimenChange>
}) {
  const [added, setAdded] = useState('')
  const adding = useChange<string, Study>((backend, mode) =>
    backend.studies.change(study.id, {
      failureModes: [...study.failureModes, mode],
      basedOn: study.updatedAt,
    }),
  )
  const choose = (mode: string | null) => change.change({ failureMode: mode }, words.changed(words.mode))
  const { failureMode } = specimen
  // One that was taken off the list meanwhile is still what this specimen says.
  const modes =
    failureMode !== null && !study.failureModes.includes(failureMode)
      ? [...study.failureModes, failureMode]
      : study.failureModes
  const add = (event: FormEvent) => {
    event.preventDefault()
    const mode = added.trim()
    if (mode === '') return
    if (modes.includes(mode)) {
      setAdded('')
      choose(mode)
      return
    }
    adding.mutate(mode, {
      onSuccess() {
        setAdded('')
        choose(mode)
      },
    })
  }
  return (
    <>
      <div className="field">
        <label htmlFor={MODE_ID}>{words.mode}</label>
        <select
          id={MODE_ID}
          className="input"
          value={failureMode ?? ''}
          onChange={event => choose(event.target.value === '' ? null : event.target.value)}
        >
          <option value="">{words.modeNone}</option>
          {modes.map(mode => (
            <option key={mode} value={mode}>
              {mode}
            </option>
          ))}
        </select>
      </div>
      <form className="read-add" onSubmit={add}>
        <div>
          <Field
            label={words.newMode}
            isNeeded
            value={added}
            fault={null}
            onValue={setAdded}
            maxLength={200}
          />
        </div>
        <button type="submit" className="button" disabled={adding.isPending}>
          {words.addMode}
        </button>
      </form>
      <Problems error={adding.error} />
    </>
  )
}

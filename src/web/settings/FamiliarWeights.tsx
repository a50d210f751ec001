import { useId, useState } from 'react'
import type { Study } from '../../server/apiTypes.ts'
import { type FamiliarWeight, useSettings } from '../app/settings.tsx'
import { useFoot } from '../app/undo.tsx'
import { useStudies } from '../data/queries.ts'
import { useStudyChange } from '../data/useStudyChange.ts'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { WeightList } from './WeightList.tsx'

const t = texts.settings

/** Weights that the person's audience knows: those of a study, or those that new studies begin with. */
export function FamiliarWeights() {
  const { data: studies } = useStudies()
  const id = useId()
  const [studyId, setStudyId] = useState('')
  const study = studies?.find(one => one.id === studyId)
  return (
    <section aria-labelledby={`${id}-h`} className="settings-part">
      <h2 id={`${id}-h`}>{t.weights}</h2>
      <p className="pencil">{t.weightsWhat}</p>
      <div className="field settings-narrow">
        <label htmlFor={`${id}-of`}>{t.weightsOf}</label>
        <select
          id={`${id}-of`}
          className="input"
          value={studyId}
          onChange={event => setStudyId(event.target.value)}
        >
          <option value="">{t.newStudies}</option>
          {studies?.map(({ id, name }) => (
            <option key={id} value={id}>
              {name}
            </option>
          ))}
        </select>
      </div>
      {study ? <OfStudy key={study.id} study={study} /> : <OfNewStudies />}
    </section>
  )
}

function OfStudy({ study }: { study: Study }) {
  const { change, error } = useStudyChange(study)
  return (
    <>
      <WeightList
        weights={study.equivalents}
        onKeep={(equivalents, text) =>
          change({ equivalents: equivalents.map(weight => ({ ...weight })) }, text)
        }
      />
      <Problems error={error} />
    </>
  )
}

function OfNewStudies() {
  const { settings, choose } = useSettings()
  const foot = useFoot()
  const { equivalents: before } = settings
  const keep = async (equivalents: readonly FamiliarWeight[], text: string) => {
    choose({ equivalents })
    foot.did(text, async () => choose({ equivalents: before }))
    return true
  }
  return <WeightList weights={before} onKeep={keep} />
}

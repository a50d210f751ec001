import { useId, useState } from 'react'
import { type FamiliarWeight, useSettings } from '../app/settings.tsx'
import { useFoot } from '../app/undo.tsx'
import { useMark } from '../app/units.tsx'
import { useChange, useStudies } from '../data/queries.ts'
import { Problems } from '../parts/Problems.tsx'
import { texts } from '../texts/index.ts'
import { typedNumber } from './unitList.ts'

const BLANK = { name: '', plural: '', mass: '' }

/** Weights that the person's audience knows: those of a study, or those that new studies begin with. */
export function FamiliarWeights() {
  const { settings, choose } = useSettings()
  const { data: studies } = useStudies()
  const foot = useFoot()
  const mark = useMark()
  const id = useId()
  const [studyId, setStudyId] = useState('')
  const [typed, setTyped] = useState(BLANK)
  const study = studies?.find(one => one.id === studyId)
  const change = useChange(
    (backend, { id, equivalents }: { id: string; equivalents: readonly FamiliarWeight[] }) =>
      backend.studies.change(id, { equivalents: equivalents.map(weight => ({ ...weight })) }),
  )
  const weights = study?.equivalents ?? settings.equivalents
  const keep = async (equivalents: readonly FamiliarWeight[]) => {
    if (study) await change.mutateAsync({ id: study.id, equivalents })
    else choose({ equivalents })
  }
  const t = texts.settings
  const massKg = typedNumber(typed.mass)
  const isGood = typed.name.trim() !== '' && massKg !== null && massKg > 0
  const field = (key: keyof typeof BLANK) => ({
    id: `${id}-${key}`,
    className: 'input',
    maxLength: 200,
    value: typed[key],
    onChange: (event: { target: { value: string } }) => setTyped({ ...typed, [key]: event.target.value }),
  })
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
      <ul className="plain-list settings-units">
        {weights.map((weight, i) => (
          <li key={`${weight.name} ${weight.massKg}`}>
            <span>
              {weight.name}
              {weight.plural !== '' && `, ${weight.plural}`}{' '}
              <span className="pencil">{mark(`${weight.massKg} kg`)}</span>
            </span>
            <button
              type="button"
              className="button button-plain"
              onClick={() =>
                keep(weights.toSpliced(i, 1)).then(
                  () => foot.did(t.didRemove(weight.name), () => keep(weights)),
                  () => {},
                )
              }
            >
              {t.remove}
              <span className="hidden-words">{weight.name}</span>
            </button>
          </li>
        ))}
      </ul>
      <form
        className="settings-weight"
        onSubmit={event => {
          event.preventDefault()
          if (!isGood) return
          const weight = { name: typed.name.trim(), plural: typed.plural.trim(), massKg }
          keep([...weights, weight]).then(
            () => setTyped(BLANK),
            () => {},
          )
        }}
      >
        <div className="field">
          <label htmlFor={`${id}-name`}>{t.weightName}</label>
          <input {...field('name')} required placeholder={t.weightNameHint} />
        </div>
        <div className="field">
          <label htmlFor={`${id}-plural`}>{t.weightPlural}</label>
          <input {...field('plural')} placeholder={t.weightPluralHint} />
        </div>
        <div className="field">
          <label htmlFor={`${id}-mass`}>{t.weightMass}</label>
          <input {...field('mass')} required inputMode="decimal" aria-describedby={`${id}-bad`} />
        </div>
        <button type="submit" className="button">
          {t.addWeight}
        </button>
        <p id={`${id}-bad`} className="warning" role="status">
          {typed.mass !== '' && !(massKg !== null && massKg > 0) && t.badMass}
        </p>
      </form>
      <Problems error={change.error} />
    </section>
  )
}

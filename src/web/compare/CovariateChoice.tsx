import { useId, useState } from 'react'
import { COVARIATES, type StudyComparison } from '../../core/statistics/compare/compareStudy.ts'
import type { OpenStudy } from '../data/backend.ts'
import { texts } from '../texts/index.ts'
import { namesOf } from './comparedStudies.ts'
import { ownNumbers } from './ownNumbers.ts'

const t = texts.compare
const OWN = 'own'
/** So many lines that were not understood are named. */
const NAMED = 3

type Covariate = NonNullable<StudyComparison['covariate']>

/** What is taken out of the scatter: something that is kept of each specimen, or numbers that the person types or pastes. */
export function CovariateChoice({
  opens,
  covariate,
  onChoose,
}: {
  opens: readonly OpenStudy[]
  covariate: Covariate | null
  onChoose(covariate: Covariate | null): void
}) {
  const isOwn = typeof covariate === 'object' && covariate !== null
  return (
    <>
      <label>
        {t.covariate}{' '}
        <select
          className="input"
          value={isOwn ? OWN : (covariate ?? '')}
          onChange={({ target: { value } }) =>
            onChoose(value === OWN ? { name: t.ownUsualName, of: new Map() } : kept(value))
          }
        >
          <option value="">{t.covariateNone}</option>
          {NAMES.map(name => (
            <option key={name} value={name}>
              {t.covariates[name]}
            </option>
          ))}
          <option value={OWN}>{t.covariateOwn}</option>
        </select>
      </label>
      {isOwn && <OwnNumbersFields opens={opens} onChoose={onChoose} />}
    </>
  )
}

const NAMES = Object.keys(COVARIATES) as (keyof typeof COVARIATES)[]
const kept = (value: string): Covariate | null => NAMES.find(name => name === value) ?? null

function OwnNumbersFields({
  opens,
  onChoose,
}: {
  opens: readonly OpenStudy[]
  onChoose(covariate: Covariate): void
}) {
  const id = useId()
  const [name, setName] = useState('')
  const [text, setText] = useState('')
  const specimens = namesOf(opens)
  const { of, unknown } = ownNumbers(text, specimens)
  const choose = (nameNow: string, textNow: string) => {
    setName(nameNow)
    setText(textNow)
    onChoose({ name: nameNow.trim() || t.ownUsualName, of: ownNumbers(textNow, specimens).of })
  }
  return (
    <div className="compare-own">
      <label htmlFor={`${id}-name`}>{t.ownName}</label>
      <input
        id={`${id}-name`}
        className="input"
        value={name}
        maxLength={60}
        onChange={event => choose(event.target.value, text)}
      />
      <label htmlFor={`${id}-numbers`}>{t.ownNumbers}</label>
      <textarea
        id={`${id}-numbers`}
        className="input"
        rows={5}
        value={text}
        aria-describedby={`${id}-found`}
        onChange={event => choose(name, event.target.value)}
      />
      <p id={`${id}-found`} className="pencil small" aria-live="polite">
        {t.ownFound(of.size, specimens.length)}{' '}
        {unknown.length > 0 && t.ownUnknown(unknown.slice(0, NAMED).join('; '))} {t.ownNotKept}
      </p>
    </div>
  )
}

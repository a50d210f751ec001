import { useId, useState } from 'react'
import type { FamiliarWeight } from '../app/settings.tsx'
import { useMark } from '../app/units.tsx'
import { Needed } from '../parts/Needed.tsx'
import { aboveZeroOrNull } from '../parts/typed.ts'
import { texts } from '../texts/index.ts'

const t = texts.settings
const BLANK = { name: '', plural: '', mass: '' }

/** Familiar weights, each with a way to take it off the list, and a form for another. */
export function WeightList({
  weights,
  onKeep,
}: {
  weights: readonly FamiliarWeight[]
  /** `text` says what was done. Settles with whether it is kept. */
  onKeep: (weights: readonly FamiliarWeight[], text: string) => Promise<boolean>
}) {
  const mark = useMark()
  const id = useId()
  const [typed, setTyped] = useState(BLANK)
  const massKg = aboveZeroOrNull(typed.mass)
  const name = typed.name.trim()
  const field = (key: keyof typeof BLANK) => ({
    id: `${id}-${key}`,
    className: 'input',
    maxLength: 200,
    value: typed[key],
    onChange: (event: { target: { value: string } }) => setTyped({ ...typed, [key]: event.target.value }),
  })
  return (
    <>
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
              onClick={() => void onKeep(weights.toSpliced(i, 1), t.didRemove(weight.name))}
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
          if (name === '' || typeof massKg !== 'number') return
          const weight = { name, plural: typed.plural.trim(), massKg }
          void onKeep([...weights, weight], t.didAdd(name)).then(isKept => isKept && setTyped(BLANK))
        }}
      >
        <div className="field">
          <label htmlFor={`${id}-name`}>{t.weightName}</label>
          <Needed />
          <input {...field('name')} required placeholder={t.weightNameHint} />
        </div>
        <div className="field">
          <label htmlFor={`${id}-plural`}>{t.weightPlural}</label>
          <input {...field('plural')} placeholder={t.weightPluralHint} />
        </div>
        <div className="field">
          <label htmlFor={`${id}-mass`}>{t.weightMass}</label>
          <Needed />
          <input {...field('mass')} required inputMode="decimal" aria-describedby={`${id}-bad`} />
        </div>
        <button type="submit" className="button">
          {t.addWeight}
        </button>
        <p id={`${id}-bad`} className="warning" role="status">
          {massKg === undefined && t.badMass}
        </p>
      </form>
    </>
  )
}

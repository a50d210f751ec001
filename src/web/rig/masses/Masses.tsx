import { useId, useState } from 'react'
import { REFERENCE_GUIDE } from '../../../core/calibration/references.ts'
import { useMark } from '../../app/units.tsx'
import { Problems } from '../../parts/Problems.tsx'
import { Field } from '../../read/adjust/Field.tsx'
import { texts } from '../../texts/index.ts'
import {
  BLANK_MASS,
  FIELDS_OF,
  MASS_KINDS,
  MAY_BE_EMPTY,
  type MassField,
  type MassKind,
  massFrom,
} from './massForm.ts'
import type { HouseMassesKept } from './useHouseMasses.ts'

const t = texts.rig
export const MASS_NAME_ID = 'rig-masses'

/** What can be hung on the rig, and how well each is known. */
export function Masses({ house }: { house: HouseMassesKept }) {
  const id = useId()
  const mark = useMark()
  const [form, setForm] = useState(BLANK_MASS)
  const [faults, setFaults] = useState<readonly MassField[]>([])
  const field = (name: MassField) => (
    <Field
      key={name}
      label={name === 'limitG' ? t.massLimit[form.kind] : t.massFields[name]}
      value={form[name]}
      fault={faults.includes(name) ? t.massFaults[name] : null}
      onValue={value => setForm({ ...form, [name]: value })}
      isNeeded={!MAY_BE_EMPTY.has(`${form.kind} ${name}`)}
      {...(name === 'name' ? { maxLength: 60 } : { inputMode: 'decimal' as const })}
    />
  )
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{t.masses}</h2>
      <p className="pencil">{t.massesWhat}</p>
      <ul className="plain-list rig-masses">
        {house.list.map(({ name, text }) => (
          <li key={name}>
            <strong>{name}</strong> <span className="pencil">{mark(text)}</span>
            <button type="button" className="button button-plain" onClick={() => house.remove(name)}>
              {t.remove}
              <span className="hidden-words">{name}</span>
            </button>
          </li>
        ))}
      </ul>
      <form
        id={MASS_NAME_ID}
        className="rig-fields"
        aria-label={t.newMass}
        onSubmit={event => {
          event.preventDefault()
          const made = massFrom(form, new Set(house.masses.keys()))
          setFaults('faults' in made ? made.faults : [])
          if ('faults' in made) return
          void house
            .add(made.name, made.reference)
            .then(isKept => isKept && setForm({ ...BLANK_MASS, kind: form.kind }))
        }}
      >
        <Field
          label={t.massKind}
          value={form.kind}
          fault={null}
          onValue={kind => setForm({ ...form, kind: kind as MassKind })}
          options={MASS_KINDS.map(value => ({ value, text: t.massKinds[value] }))}
        />
        {field('name')}
        {FIELDS_OF[form.kind].map(field)}
        <button type="submit" className="button">
          {t.addMass}
        </button>
      </form>
      <Problems error={house.error} />
      <details>
        <summary>{t.guide}</summary>
        <dl className="rig-guide">
          {REFERENCE_GUIDE.map(({ what, doubt }) => (
            <div key={what}>
              <dt>{what}</dt>
              <dd className="pencil">{mark(doubt)}</dd>
            </div>
          ))}
        </dl>
      </details>
    </section>
  )
}

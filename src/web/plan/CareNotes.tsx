import { useId } from 'react'
import { CARE } from '../../publish/care.ts'
import { HAZARD_CARE, HAZARDS, type Hazard } from '../../publish/careNotes.ts'
import { texts } from '../texts/index.ts'

const t = texts.plan

/** Cautions for this study: those that always hold, and those for what its specimens may do. */
export function CareNotes({
  hazards,
  onHazards,
}: {
  hazards: readonly Hazard[]
  onHazards: (hazards: readonly Hazard[]) => void
}) {
  const id = useId()
  return (
    <section aria-labelledby={id} className="plan-care">
      <h2 id={id}>{t.care}</h2>
      <fieldset className="plan-hazards not-printed">
        <legend className="pencil">{t.hazards}</legend>
        {HAZARDS.map(name => (
          <label key={name} className="plan-inline plan-tick">
            <input
              type="checkbox"
              checked={hazards.includes(name)}
              onChange={event =>
                onHazards(
                  HAZARDS.filter(other => (other === name ? event.target.checked : hazards.includes(other))),
                )
              }
            />
            {HAZARD_CARE[name].what}
          </label>
        ))}
      </fieldset>
      <ul className="plan-cautions">
        {hazards.map(name => (
          <li key={name}>
            <strong>{HAZARD_CARE[name].care}</strong>
          </li>
        ))}
        {CARE.map(text => (
          <li key={text}>{text}</li>
        ))}
      </ul>
    </section>
  )
}

import { CARE } from '../../publish/care.ts'
import { HAZARD_CARE, HAZARDS, type Hazard } from '../../publish/careNotes.ts'
import { Answered } from '../parts/Answered.tsx'
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
  return (
    <Answered
      heading={t.care}
      answer={hazards.map(name => HAZARD_CARE[name].care).concat(CARE)[0] ?? ''}
      className="plan-care"
    >
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
    </Answered>
  )
}

import { useId, useState } from 'react'
import type { Mass } from '../../../core/calibration/references.ts'
import { FORCE_UNITS, type LogForceUnit } from '../../../core/units/force.ts'
import { texts } from '../../texts/index.ts'
import { stepsFor } from './steps.ts'

const t = texts.rig

/** Which masses are to hang, and what the readings are in. */
export function StartForm({
  masses,
  lineUnit,
  usualUnit,
  onStart,
}: {
  masses: readonly Mass[]
  /** What the line sends; `null` where readings are typed. */
  lineUnit: LogForceUnit | null
  usualUnit: LogForceUnit
  onStart: (masses: readonly Mass[], unit: LogForceUnit) => void
}) {
  const id = useId()
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set())
  const [typedUnit, setTypedUnit] = useState<LogForceUnit>(usualUnit)
  const chosen = masses.filter(({ name }) => !left.has(name))
  const steps = stepsFor(chosen).length
  return (
    <form
      onSubmit={event => {
        event.preventDefault()
        if (chosen.length >= 2) onStart(chosen, lineUnit ?? typedUnit)
      }}
    >
      <fieldset className="rig-choose">
        <legend className="pencil">{t.hangThese}</legend>
        {masses.map(({ name, text }) => (
          <label key={name} className="rig-tick">
            <input
              type="checkbox"
              checked={!left.has(name)}
              onChange={event => {
                const next = new Set(left)
                if (event.target.checked) next.delete(name)
                else next.add(name)
                setLeft(next)
              }}
            />
            <span>
              {name} <span className="pencil">{text}</span>
            </span>
          </label>
        ))}
      </fieldset>
      {lineUnit === null && (
        <div className="field rig-narrow">
          <label htmlFor={id}>{t.readingUnit}</label>
          <select
            id={id}
            className="input"
            value={typedUnit}
            onChange={event => setTypedUnit(event.target.value as LogForceUnit)}
          >
            {['counts', ...FORCE_UNITS].map(unit => (
              <option key={unit} value={unit}>
                {unit}
              </option>
            ))}
          </select>
        </div>
      )}
      <div className="row">
        <button type="submit" className="button" disabled={chosen.length < 2}>
          {t.startCalibrating}
        </button>
        <span className="pencil">{chosen.length < 2 ? t.twoMasses : t.stepsAhead(steps)}</span>
      </div>
    </form>
  )
}

import { useId, useState } from 'react'
import { FORCE_UNITS, type ForceUnit } from '../../core/units/force.ts'
import { showForce } from '../../core/units/showForce.ts'
import { useSettings } from '../app/settings.tsx'
import { useFoot } from '../app/undo.tsx'
import { useMark } from '../app/units.tsx'
import { texts } from '../texts/index.ts'
import { movedUnit } from './unitList.ts'

/** What one unit list looks like on a figure. */
const EXAMPLE_N = 68.2
const EXAMPLE_DOUBT_N = 1.5

/** The units that a click on a figure's unit goes through, in their order; the first is shown. */
export function Units() {
  const { settings, choose } = useSettings()
  const { units } = settings
  const foot = useFoot()
  const mark = useMark()
  const id = useId()
  const [said, setSaid] = useState('')
  const t = texts.settings
  const others = FORCE_UNITS.filter(unit => !units.includes(unit))
  const move = (unit: ForceUnit, by: -1 | 1) => {
    const moved = movedUnit(units, unit, by)
    choose({ units: moved })
    setSaid(t.nowAt(unit, moved.indexOf(unit) + 1, moved.length))
  }
  return (
    <section aria-labelledby={`${id}-h`} className="settings-part">
      <h2 id={`${id}-h`}>{t.units}</h2>
      <p className="pencil">{t.unitsWhat}</p>
      {units.length === 0 ? (
        <p>{t.noUnits}</p>
      ) : (
        <ol className="plain-list settings-units">
          {units.map((unit, i) => (
            <li key={unit}>
              <span>
                <strong>{unit}</strong>{' '}
                <span className="pencil">
                  {mark(showForce(EXAMPLE_N, EXAMPLE_DOUBT_N, unit))}
                  {i === 0 && ` · ${t.shown}`}
                </span>
              </span>
              <span className="settings-doings">
                <Doing words={t.earlier} of={unit} off={i === 0} onDo={() => move(unit, -1)} />
                <Doing words={t.later} of={unit} off={i === units.length - 1} onDo={() => move(unit, 1)} />
                <Doing
                  words={t.remove}
                  of={unit}
                  onDo={() => {
                    choose({ units: units.filter(one => one !== unit) })
                    foot.did(t.didRemove(unit), async () => choose({ units }))
                  }}
                />
              </span>
            </li>
          ))}
        </ol>
      )}
      <p className="hidden-words" role="status">
        {said}
      </p>
      {others.length > 0 && (
        <div className="field settings-narrow">
          <label htmlFor={`${id}-add`}>{t.addUnit}</label>
          <select
            id={`${id}-add`}
            className="input"
            value=""
            onChange={event => {
              const unit = FORCE_UNITS.find(one => one === event.target.value)
              if (unit) choose({ units: [...units, unit] })
            }}
          >
            <option value="">{t.chooseUnit}</option>
            {others.map(unit => (
              <option key={unit} value={unit}>
                {unit} · {t.unitNames[unit]}
              </option>
            ))}
          </select>
        </div>
      )}
    </section>
  )
}

const Doing = ({
  words,
  of,
  off = false,
  onDo,
}: {
  words: string
  of: string
  off?: boolean
  onDo: () => void
}) => (
  <button type="button" className="button button-plain" disabled={off} onClick={onDo}>
    {words}
    <span className="hidden-words">{of}</span>
  </button>
)

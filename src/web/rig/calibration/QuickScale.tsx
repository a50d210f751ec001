import { useId, useState } from 'react'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Rig as RigDocument } from '../../../core/calibration/rig.ts'
import type { Problem } from '../../../core/problem.ts'
import { FORCE_UNITS, type LogForceUnit } from '../../../core/units/force.ts'
import type { Rig } from '../../../server/apiTypes.ts'
import { Trouble } from '../../data/trouble.ts'
import { Problems } from '../../parts/Problems.tsx'
import { typedNumber } from '../../parts/typed.ts'
import { Field } from '../../read/adjust/Field.tsx'
import { texts } from '../../texts/index.ts'
import { localDay } from '../check/checkNow.ts'
import { levelText, STEADY_S } from '../line/steady.ts'
import type { LineNow } from '../line/useLineNow.ts'
import type { RigChange } from '../useRigChange.ts'
import { quickScaleNow } from './quickScaleNow.ts'

const t = texts.rig.quick
const READINGS = ['empty', 'loaded'] as const
const NOTHING = { empty: '', loaded: '' }

/** A scale from one known mass, for who has no second one or no time: it says what it cannot know. */
export function QuickScale({
  kept,
  rig,
  masses,
  raw,
  usualUnit,
  change,
  onKept,
}: {
  kept: Rig
  rig: RigDocument
  masses: readonly Mass[]
  /** The line as the converter sends it; `null` where readings are typed. */
  raw: LineNow | null
  usualUnit: LogForceUnit
  change: RigChange['change']
  onKept: () => void
}) {
  const id = useId()
  const [massName, setMassName] = useState('')
  const [typedUnit, setTypedUnit] = useState<LogForceUnit>(usualUnit)
  const [readings, setReadings] = useState<Readonly<Record<(typeof READINGS)[number], string>>>(NOTHING)
  const [isTried, setTried] = useState(false)
  const [problems, setProblems] = useState<readonly Problem[]>([])
  const mass = masses.find(({ name }) => name === massName) ?? masses[0] ?? null
  const steady = raw?.steady && raw.steady.forS >= STEADY_S ? raw.steady : null
  const keep = async () => {
    setTried(true)
    if (!mass || READINGS.some(of => typedNumber(readings[of]) === null)) return
    const plain = (of: (typeof READINGS)[number]) => readings[of].trim().replace('−', '-').replace(',', '.')
    const scale = quickScaleNow({
      rig,
      mass,
      empty: plain('empty'),
      loaded: plain('loaded'),
      readingUnit: raw?.unit ?? typedUnit,
      date: localDay(new Date()),
    })
    setProblems(scale.ok ? [] : scale.problems)
    if (!scale.ok) return
    const isKept = await change(
      kept,
      now => {
        const document = now.document as { readonly calibrations?: readonly unknown[] }
        return { document: { ...document, calibrations: [...(document.calibrations ?? []), scale.value] } }
      },
      t.did,
    )
    if (!isKept) return
    setReadings(NOTHING)
    setTried(false)
    onKept()
  }
  return (
    <details className="rig-quick">
      <summary>{t.heading}</summary>
      <p>{t.weaker}</p>
      {mass === null ? (
        <p className="pencil">{t.noMass}</p>
      ) : (
        <form
          aria-labelledby={id}
          onSubmit={event => {
            event.preventDefault()
            void keep()
          }}
        >
          <span id={id} className="hidden-words">
            {t.heading}
          </span>
          <div className="rig-fields">
            <Field
              label={t.mass}
              value={mass.name}
              fault={null}
              onValue={setMassName}
              options={masses.map(({ name }) => ({ value: name, text: name }))}
            />
            {raw === null && (
              <Field
                label={texts.rig.readingUnit}
                value={typedUnit}
                fault={null}
                onValue={unit => setTypedUnit(unit as LogForceUnit)}
                options={['counts', ...FORCE_UNITS].map(unit => ({ value: unit, text: unit }))}
              />
            )}
          </div>
          {READINGS.map(of => (
            <div key={of} className="row rig-quick-reading">
              <Field
                label={t.readings[of]}
                isNeeded
                value={readings[of]}
                fault={isTried && typedNumber(readings[of]) === null ? texts.rig.notAReading : null}
                onValue={value => setReadings({ ...readings, [of]: value })}
                inputMode="decimal"
              />
              {raw && (
                <button
                  type="button"
                  className="button"
                  aria-disabled={steady === null}
                  onClick={() => steady && setReadings({ ...readings, [of]: levelText(steady) })}
                >
                  {steady === null ? texts.rig.waiting : t.fromLine}
                </button>
              )}
            </div>
          ))}
          <button type="submit" className="button">
            {t.keep}
          </button>
        </form>
      )}
      {problems.length > 0 && <Problems error={new Trouble(problems)} />}
    </details>
  )
}

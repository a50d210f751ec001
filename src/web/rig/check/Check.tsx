import { useId } from 'react'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Rig as RigDocument } from '../../../core/calibration/rig.ts'
import { halfLastDigit } from '../../../core/units/gravity.ts'
import { decimalsFor, plainNumber } from '../../../core/units/showForce.ts'
import { useMark } from '../../app/units.tsx'
import { Trouble } from '../../data/trouble.ts'
import { Problems } from '../../parts/Problems.tsx'
import { typedNumber } from '../../parts/typed.ts'
import { texts } from '../../texts/index.ts'
import { ReadingForm } from '../calibration/ReadingForm.tsx'
import { LinePart } from '../line/LinePart.tsx'
import type { BenchLine } from '../line/useLineNow.ts'
import { CheckChart } from './CheckChart.tsx'
import { chartedChecks, typedUnitOf } from './checkNow.ts'
import type { Checking } from './useChecking.ts'

const t = texts.rig
const NORMAL_95 = 1.959_963_984_540_054

/** One known mass before the day's work, and the checks so far. */
export function CheckPart({
  checking,
  rig,
  masses,
  mass,
  line,
  onMass,
}: {
  checking: Checking
  rig: RigDocument
  masses: readonly Mass[]
  mass: Mass | null
  line: BenchLine | null
  onMass: (name: string) => void
}) {
  const id = useId()
  const mark = useMark()
  const { step, judged, checks } = checking
  const unit = typedUnitOf(rig)
  if (rig.calibrations.length === 0) return null
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{t.check}</h2>
      <p className="pencil">{t.checkWhat}</p>
      <div className="field rig-narrow">
        <label htmlFor={`${id}-mass`}>{t.checkMass}</label>
        <select
          id={`${id}-mass`}
          className="input"
          value={mass?.name ?? ''}
          onChange={event => onMass(event.target.value)}
        >
          {mass === null && <option value="">{t.noMass}</option>}
          {masses.map(({ name }) => (
            <option key={name} value={name}>
              {name}
            </option>
          ))}
        </select>
      </div>
      {step === null ? (
        <button type="button" className="button" disabled={mass === null} onClick={checking.begin}>
          {t.beginCheck}
        </button>
      ) : (
        <>
          {line && <LinePart line={line} wish="rig" />}
          {unit !== null && (
            <ReadingForm
              unit={unit}
              onTake={reading =>
                checking.take({
                  value: typedNumber(reading) ?? Number.NaN,
                  standard: halfLastDigit(reading) / Math.sqrt(3),
                  isForce: false,
                  greatestN: null,
                })
              }
            />
          )}
          <button type="button" className="button button-plain" onClick={checking.stop}>
            {t.stopCheck}
          </button>
        </>
      )}
      {checking.problems.length > 0 && <Problems error={new Trouble(checking.problems)} />}
      <Problems error={checking.error} />
      {judged && (
        <div role="status">
          <p className={judged.check.verdict === 'out' ? 'rig-class warning' : 'rig-class'}>
            {judged.check.verdict === 'out' ? t.rigIsOff : t.rigIsRight}
          </p>
          <p>{mark(figuresOf(judged))}</p>
          {judged.check.findings.map(({ code, text }) => (
            <p key={code} className="warning">
              {mark(text)}
            </p>
          ))}
        </div>
      )}
      {checks.length > 0 && <CheckChart checks={chartedChecks(checks)} />}
    </section>
  )
}

function figuresOf({ check, errorPct, limitPct }: NonNullable<Checking['judged']>): string {
  const decimals = decimalsFor(NORMAL_95 * Math.hypot(check.appliedStandardN, check.indicatedStandardN))
  return t.checkFigures({
    known: plainNumber(check.appliedN, decimals),
    indicated: plainNumber(check.indicatedN, decimals),
    error: `${errorPct < 0 ? '−' : '+'}${Math.abs(errorPct).toFixed(2)}`,
    limit: limitPct === null ? null : limitPct.toFixed(2),
  })
}

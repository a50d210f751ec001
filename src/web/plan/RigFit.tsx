import { useId } from 'react'
import { Link } from 'wouter'
import type { Plan } from '../../core/statistics/plan/document.ts'
import { type ForceUnit, fromNewton, toNewton } from '../../core/units/force.ts'
import { addressOf } from '../app/places.ts'
import { useMark } from '../app/units.tsx'
import { Answered } from '../parts/Answered.tsx'
import { FigureInput } from '../parts/FigureInput.tsx'
import { texts } from '../texts/index.ts'
import type { Asked } from './asked.ts'

const t = texts.plan

/** The pulls expected against the rig: capacity, sampling, stroke, re-grips. */
export function RigFit({
  asked,
  plan,
  unit,
  rigName,
  studyId,
  onKeep,
}: {
  asked: Asked
  plan: Plan
  unit: ForceUnit
  rigName: string | null
  studyId: string
  onKeep: (change: Partial<Asked>) => void
}) {
  const id = useId()
  const mark = useMark()
  const peak =
    asked.expectedPeakN === null ? null : Number(fromNewton(asked.expectedPeakN, unit).toPrecision(6))
  return (
    <Answered
      heading={t.rigFit}
      answer={rigName === null ? t.noRigYet : t.toMind(plan.rig.filter(({ ok }) => !ok).length)}
      className="not-printed"
    >
      <div className="plan-fields">
        <div className="field">
          <label htmlFor={`${id}-peak`}>{t.expectedPeak(unit)}</label>
          <FigureInput
            id={`${id}-peak`}
            value={peak}
            onFigure={value => onKeep({ expectedPeakN: value === null ? null : toNewton(value, unit) })}
          />
        </div>
        <div className="field">
          <label htmlFor={`${id}-extension`}>{t.extension}</label>
          <FigureInput
            id={`${id}-extension`}
            value={asked.extensionMm}
            onFigure={extensionMm => onKeep({ extensionMm })}
          />
        </div>
        <div className="field">
          <label htmlFor={`${id}-time`}>{t.timeToBreak}</label>
          <FigureInput
            id={`${id}-time`}
            value={asked.timeToBreakS}
            onFigure={timeToBreakS => onKeep({ timeToBreakS })}
          />
        </div>
      </div>
      <p className="pencil">
        {rigName === null ? t.noRig : t.withRig(rigName)}{' '}
        <Link href={addressOf.place(studyId, 'rig')}>{t.toRig}</Link>
      </p>
      <ul className="plain-list">
        {plan.rig.map(({ check, ok, text }) => (
          <li key={check} className={ok ? 'plan-check' : 'plan-check warning'}>
            <span aria-hidden="true">{ok ? '✓' : '!'}</span>
            <span className="hidden-words">{ok ? t.suits : t.mind}</span>
            <span>{mark(text)}</span>
          </li>
        ))}
      </ul>
    </Answered>
  )
}

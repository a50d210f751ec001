import { useId } from 'react'
import { MOST_STAGES } from '../../core/statistics/compare/rememberedLooks.ts'
import type { Plan } from '../../core/statistics/plan/document.ts'
import { plainNumber } from '../../core/units/showForce.ts'
import { useMark } from '../app/units.tsx'
import { Answered } from '../parts/Answered.tsx'
import { FigureInput } from '../parts/FigureInput.tsx'
import { wholeOrNull } from '../parts/typed.ts'
import { texts } from '../texts/index.ts'
import { type Asked, PLAN_GOALS } from './asked.ts'
import { Dial } from './Dial.tsx'
import { PowerCurve } from './PowerCurve.tsx'
import { type Recorded, scatterPctOf } from './planNow.ts'
import { Within } from './Within.tsx'

const t = texts.plan
const SCATTER = { least: 1, most: 40, step: 0.5 }
const DIFFERENCE = { least: 1, most: 60, step: 0.5 }
const STAGES = Array.from({ length: MOST_STAGES }, (_, i) => t.stagesOf(i + 1))
const PROOF = { least: 50, most: 99, step: 1 }
const POWERS = [0.7, 0.8, 0.9, 0.95, 0.99]

/** The sentence with the dials, and the curve that moves with them. */
export function HowMany({
  asked,
  plan,
  recorded,
  keptPerGroup,
  isAsked,
  onTry,
  onRelease,
  onKeep,
}: {
  asked: Asked
  plan: Plan
  recorded: Recorded | null
  /** Of the plan that is kept, which another scatter leaves as it is; `null`: none is. */
  keptPerGroup: number | null
  isAsked: boolean
  onTry: (change: Partial<Asked>) => void
  onRelease: () => void
  onKeep: (change: Partial<Asked>) => void
}) {
  const id = useId()
  const mark = useMark()
  const recordedPct = recorded && scatterPctOf(recorded)
  const isRecorded = asked.scatterPct === null && recordedPct !== null
  const scatterPct = asked.scatterPct ?? recordedPct ?? 10
  return (
    <Answered
      heading={t.howMany}
      answer={t.soMany(keptPerGroup ?? plan.perGroup)}
      isAsked={isAsked}
      className="not-printed"
    >
      <div className="plan-how">
        <div>
          <label className="plan-inline">
            {t.goal}{' '}
            <select
              className="input"
              value={asked.goal}
              onChange={event =>
                onKeep({ goal: PLAN_GOALS.find(goal => goal === event.target.value) ?? 'difference' })
              }
            >
              {PLAN_GOALS.map(goal => (
                <option key={goal} value={goal}>
                  {t.goals[goal]}
                </option>
              ))}
            </select>
          </label>
          <p className="plan-sentence">
            {t.withScatter}{' '}
            <Dial
              name={t.scatter}
              value={scatterPct}
              unit="%"
              range={SCATTER}
              onTry={value => onTry({ scatterPct: value })}
              onRelease={onRelease}
              onType={value => onKeep({ scatterPct: value })}
            />
            {t.toTellOf[asked.goal]}{' '}
            {asked.goal === 'proof' ? (
              <Dial
                name={t.proofShare}
                value={asked.proofPct}
                unit="%"
                range={PROOF}
                onTry={value => onTry({ proofPct: value })}
                onRelease={onRelease}
                onType={value => onKeep({ proofPct: value })}
              />
            ) : (
              <Dial
                name={t.difference}
                value={asked.differencePct}
                unit="%"
                range={DIFFERENCE}
                onTry={value => onTry({ differencePct: value })}
                onRelease={onRelease}
                onType={value => onKeep({ differencePct: value })}
              />
            )}{' '}
            {t.apartOf[asked.goal]}{' '}
            <select
              className="input plan-power"
              aria-label={t.powerLabel}
              value={asked.power}
              onChange={event => onKeep({ power: Number(event.target.value) })}
            >
              {(POWERS.includes(asked.power) ? POWERS : [...POWERS, asked.power].sort()).map(power => (
                <option key={power} value={power}>
                  {mark(t.times(plainNumber(power * 100, power * 100 === Math.round(power * 100) ? 0 : 1)))}
                </option>
              ))}
            </select>
            {t.pull} <strong className="plan-number">{plan.perGroup}</strong> {t.ofEach}
          </p>
          {recordedPct !== null && (
            <label className="plan-inline plan-tick">
              <input
                type="checkbox"
                checked={isRecorded}
                onChange={event =>
                  onKeep({ scatterPct: event.target.checked ? null : roundPct(recordedPct) })
                }
              />
              {mark(t.scatterOfRecords(recorded?.values ?? 0, plainNumber(recordedPct, 1)))}
            </label>
          )}
          <Within asked={asked} onKeep={onKeep} />
          <label className="plan-inline">
            {t.stages}{' '}
            <select
              className="input"
              value={asked.stages}
              onChange={event => onKeep({ stages: Number(event.target.value) })}
            >
              {STAGES.map((name, i) => (
                <option key={name} value={i + 1}>
                  {name}
                </option>
              ))}
            </select>
          </label>
          <p aria-live="polite">{mark(plan.because)}</p>
          {keptPerGroup !== null && keptPerGroup !== plan.perGroup && (
            <p>
              {t.keptIs(keptPerGroup)}{' '}
              <button type="button" className="button" onClick={() => onKeep({})}>
                {t.keep(plan.perGroup)}
              </button>
            </p>
          )}
          {plan.looks && <p className="pencil">{mark(plan.looks.text)}</p>}
          {plan.warnings.map(({ code, text }) => (
            <p key={code} className={code === 'guessed-scatter' ? 'pencil' : 'warning'}>
              {mark(text)}
            </p>
          ))}
          <div className="field plan-narrow">
            <label htmlFor={`${id}-each`}>{t.each}</label>
            <FigureInput
              id={`${id}-each`}
              value={asked.each}
              read={wholeOrNull}
              fault={t.notWhole}
              onFigure={each => onKeep({ each })}
            />
          </div>
        </div>
        {plan.powerCurve.length > 0 && <PowerCurve plan={plan} />}
      </div>
    </Answered>
  )
}

const roundPct = (pct: number): number => Number(pct.toFixed(1))

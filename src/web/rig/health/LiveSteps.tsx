import type { HealthStep } from '../../../core/health/document.ts'
import { GUIDED_STEPS, sayNow } from '../../../core/health/guide.ts'
import type { Recording } from '../../../core/recording.ts'
import type { LogForceUnit } from '../../../core/units/force.ts'
import { texts } from '../../texts/index.ts'
import { useStepRecording } from './useStepRecording.ts'

const t = texts.health

/** The steps recorded from the line, one at a time, with what to do and the seconds that are left. */
export function LiveSteps({
  unit,
  onTaken,
}: {
  unit: LogForceUnit
  onTaken: (step: HealthStep, recording: Recording) => void
}) {
  const { step, leftS, start, stop } = useStepRecording(unit, onTaken)
  if (step !== null) {
    const { lastsS, how } = t.steps[step]
    return (
      <>
        {/* Told when it changes; the seconds beside it would be read out one by one. */}
        <p role="status">{sayNow(step, lastsS - leftS, lastsS) || how}</p>
        <p className="row">
          <button type="button" className="button" onClick={stop}>
            {t.stop}
          </button>
          <span className="health-left">{t.left(leftS)}</span>
        </p>
      </>
    )
  }
  return (
    <p className="row">
      {GUIDED_STEPS.map(name => (
        <button key={name} type="button" className="button" onClick={() => start(name, t.steps[name].lastsS)}>
          {t.recordLabel(t.steps[name].name)}
        </button>
      ))}
    </p>
  )
}

import type { HealthStep } from '../../../core/health/document.ts'
import type { Recording } from '../../../core/recording.ts'
import type { LogForceUnit } from '../../../core/units/force.ts'
import { texts } from '../../texts/index.ts'
import { useStepRecording } from './useStepRecording.ts'

const t = texts.health
const LIVE = ['free', 'mass', 'taps', 'pull'] as const

/** The steps recorded from the line, one at a time, with the seconds that are left. */
export function LiveSteps({
  unit,
  onTaken,
}: {
  unit: LogForceUnit
  onTaken: (step: HealthStep, recording: Recording) => void
}) {
  const recording = useStepRecording(unit, onTaken)
  if (recording.step !== null)
    return (
      <p role="status">
        {t.steps[recording.step].how} {t.left(recording.leftS)}{' '}
        <button type="button" className="button" onClick={recording.stop}>
          {t.stop}
        </button>
      </p>
    )
  return (
    <p className="row">
      {LIVE.map(step => (
        <button
          key={step}
          type="button"
          className="button"
          onClick={() => recording.start(step, t.steps[step].lastsS)}
        >
          {t.recordLabel(t.steps[step].name)}
        </button>
      ))}
    </p>
  )
}

import { useId } from 'react'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Rig as RigDocument } from '../../../core/calibration/rig.ts'
import { calibrationName } from '../../../core/calibration/rigScale.ts'
import { verdictWords } from '../../../core/calibration/verdictWords.ts'
import type { Rig } from '../../../server/apiTypes.ts'
import { useMark } from '../../app/units.tsx'
import { Trouble } from '../../data/trouble.ts'
import { Problems } from '../../parts/Problems.tsx'
import { texts } from '../../texts/index.ts'
import { typedUnitOf } from '../check/checkNow.ts'
import { LinePart } from '../line/LinePart.tsx'
import type { BenchLine } from '../line/useLineNow.ts'
import type { RigChange } from '../useRigChange.ts'
import { CalibrationResult } from './CalibrationResult.tsx'
import { PointTable } from './PointTable.tsx'
import { QuickScale } from './QuickScale.tsx'
import { ReadingForm } from './ReadingForm.tsx'
import { StartForm } from './StartForm.tsx'
import type { Calibrating } from './useCalibrating.ts'

const t = texts.rig
export const CALIBRATE_ID = 'rig-calibrate'

/** Known forces against readings, one load at a time. */
export function Calibrate({
  calibrating,
  kept,
  rig,
  masses,
  line,
  change,
  onEnd,
}: {
  calibrating: Calibrating
  kept: Rig
  rig: RigDocument
  masses: readonly Mass[]
  /** `null` where there is no server to hold a line. */
  line: BenchLine | null
  change: RigChange['change']
  /** The calibration is kept or given up. */
  onEnd: () => void
}) {
  const id = useId()
  const mark = useMark()
  const { progress, step, outcome } = calibrating
  const raw = line?.now.mode === 'raw' ? line.now : null
  const latest = rig.calibrations.at(-1)
  const calibration = outcome?.ok ? outcome.value : null
  return (
    <section id={CALIBRATE_ID} aria-labelledby={id} tabIndex={-1}>
      <h2 id={id}>{t.calibrate}</h2>
      {latest && !progress && (
        <p>
          {mark(
            latest.document === 'tenterhook.calibration'
              ? t.inForce(calibrationName(latest), verdictWords(latest.corrected ?? latest))
              : t.quickInForce(calibrationName(latest), latest.doubtPct),
          )}
        </p>
      )}
      {line && <LinePart line={line} wish="raw" />}
      {!progress && (
        <>
          <StartForm
            masses={masses}
            lineUnit={raw?.unit ?? null}
            usualUnit={typedUnitOf(rig) ?? 'counts'}
            onStart={calibrating.start}
          />
          <QuickScale
            kept={kept}
            rig={rig}
            masses={masses}
            raw={raw}
            usualUnit={typedUnitOf(rig) ?? 'counts'}
            change={change}
            onKept={onEnd}
          />
        </>
      )}
      {progress && (
        <>
          {step && (
            <ReadingForm unit={progress.readingUnit} onTake={reading => calibrating.take(reading, null)} />
          )}
          <div className="row">
            {step && (
              <button type="button" className="button button-plain" onClick={calibrating.skip}>
                {t.skip}
              </button>
            )}
            {progress.points.length > 0 && (
              <button type="button" className="button button-plain" onClick={calibrating.takeBack}>
                {t.takeBack}
              </button>
            )}
            {!step && (
              <button
                type="button"
                className="button"
                onClick={() =>
                  calibrating.again(
                    masses.filter(({ name }) => progress.points.some(({ hang }) => hang.includes(name))),
                  )
                }
              >
                {t.onceMore}
              </button>
            )}
            <button
              type="button"
              className="button button-plain"
              onClick={() => {
                calibrating.stop()
                onEnd()
              }}
            >
              {t.stopCalibrating}
            </button>
          </div>
          <PointTable progress={progress} calibration={calibration} onToggle={calibrating.toggle} />
          {outcome && !outcome.ok && <Problems error={new Trouble(outcome.problems)} />}
          {calibration && <CalibrationResult calibration={calibration} />}
          {calibration && step && (
            <button
              type="button"
              className="button"
              onClick={() => void calibrating.keep(calibration).then(isKept => isKept && onEnd())}
            >
              {t.keepNow}
            </button>
          )}
        </>
      )}
      <Problems error={calibrating.error} />
    </section>
  )
}

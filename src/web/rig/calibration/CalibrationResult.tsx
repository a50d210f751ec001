import type { Calibration } from '../../../core/calibration/document.ts'
import { verdictWords } from '../../../core/calibration/verdictWords.ts'
import { plainNumber, showForce, threeDigits } from '../../../core/units/showForce.ts'
import { useMark } from '../../app/units.tsx'
import { texts } from '../../texts/index.ts'

const t = texts.rig

/** What a calibration comes to: the class it keeps within, its errors, its doubt, and what to take note of. */
export function CalibrationResult({ calibration }: { calibration: Calibration }) {
  const mark = useMark()
  const best = calibration.corrected ?? calibration
  const { errors } = best
  const top = calibration.uncertainty.at(-1)
  const figures: [string, number | null][] = [
    [t.errors.indication, errors.indicationPct],
    [t.errors.repeatability, errors.repeatabilityPct],
    [t.errors.reversibility, errors.reversibilityPct],
    [t.errors.zero, errors.zeroPct],
    [t.errors.resolution, errors.resolutionPct],
  ]
  return (
    <div aria-live="polite">
      <p className="rig-class">{mark(`${verdictWords(best)}.`)}</p>
      <p>{mark(best.why)}</p>
      {calibration.corrected && <p>{mark(t.asRead(calibration.why))}</p>}
      <dl className="rig-errors">
        {figures.map(([name, pct]) => (
          <div key={name}>
            <dt className="pencil">{name}</dt>
            <dd>{pct === null ? t.notMeasured : mark(`${plainNumber(pct, 2)} %`)}</dd>
          </div>
        ))}
        {top && (
          <div>
            <dt className="pencil">{t.doubtAt}</dt>
            <dd>{mark(showForce(top.atN, top.expandedN, 'N'))}</dd>
          </div>
        )}
        {calibration.residualSd !== null && (
          <div>
            <dt className="pencil">{t.scatter}</dt>
            <dd>{mark(`${threeDigits(calibration.residualSd)} N`)}</dd>
          </div>
        )}
      </dl>
      {calibration.warnings.map(({ code, text }) => (
        <p key={`${code} ${text}`} className="pencil">
          {mark(t.warnings[code] ?? text)}
        </p>
      ))}
      <p className="pencil small">{calibration.limitsNote}</p>
    </div>
  )
}

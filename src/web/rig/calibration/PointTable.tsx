import type { Calibration } from '../../../core/calibration/document.ts'
import { decimalsFor, plainNumber, threeDigits } from '../../../core/units/showForce.ts'
import { useMark } from '../../app/units.tsx'
import { texts } from '../../texts/index.ts'
import type { Progress } from './progress.ts'

const t = texts.rig

/** The points so far, each with what is left of it after the fit. */
export function PointTable({
  progress,
  calibration,
  onToggle,
}: {
  progress: Progress
  calibration: Calibration | null
  onToggle: (line: number) => void
}) {
  const mark = useMark()
  if (progress.points.length === 0) return null
  const decimals = calibration?.residualSd ? decimalsFor(2 * calibration.residualSd) : 3
  return (
    <div className="scroll-x">
      <table>
        <thead>
          <tr>
            <th>{t.columns.load}</th>
            <th>{t.columns.direction}</th>
            <th>{t.columns.applied}</th>
            <th>{t.columns.reading(progress.readingUnit)}</th>
            <th>{t.columns.residual}</th>
            <th>{t.columns.counts}</th>
          </tr>
        </thead>
        <tbody>
          {progress.points.map((point, i) => {
            const fitted = calibration?.points[i]
            const name = t.loadName(point.hang)
            return (
              <tr
                key={`${point.cycle} ${point.direction} ${name}`}
                className={fitted?.suspect ? 'warning' : undefined}
              >
                <th>{name}</th>
                <td>{t.directions[point.direction]}</td>
                <td>{fitted ? mark(threeDigits(fitted.appliedN)) : '–'}</td>
                <td>{mark(point.reading)}</td>
                <td>
                  {fitted ? mark(plainNumber(fitted.residualN, decimals)) : '–'}
                  {fitted?.suspect && ` ${t.suspect}`}
                </td>
                <td>
                  <label className="rig-tick">
                    <input
                      type="checkbox"
                      checked={!progress.leaveOut.includes(i + 1)}
                      onChange={() => onToggle(i + 1)}
                    />
                    <span className="hidden-words">{t.countsFor(i + 1)}</span>
                  </label>
                </td>
              </tr>
            )
          })}
        </tbody>
      </table>
    </div>
  )
}

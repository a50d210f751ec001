import { plainNumber } from '../../core/units/showForce.ts'
import { useMark } from '../app/units.tsx'
import { texts } from '../texts/index.ts'
import type { StrokeUse } from './strokeUse.ts'

const words = texts.pull

/** The margins of the page fill: the left with the share of the cell's capacity, the right with the stroke that is used. */
export function Margins({
  cellShare,
  plannedShare,
  isOver,
  stroke,
  strokeIs,
}: {
  cellShare: number | null
  plannedShare: number | null
  isOver: boolean
  stroke: StrokeUse | null
  strokeIs: 'near-end' | 'end' | null
}) {
  const mark = useMark()
  const left = stroke?.ofMm != null ? Math.max(0, stroke.ofMm - Math.abs(stroke.usedMm)) : null
  return (
    <>
      {cellShare !== null && (
        <div className="pull-margin pull-margin-cell" aria-hidden="true" data-alarm={isOver}>
          <div className="pull-fill" style={{ transform: `scaleY(${clamped(cellShare)})` }} />
          {plannedShare !== null && plannedShare <= 1 && (
            <div
              className="pull-planned"
              style={{ bottom: `${100 * plannedShare}%` }}
              title={words.plannedMark}
            />
          )}
          <span className="pull-margin-word">{words.cell}</span>
        </div>
      )}
      {stroke !== null && stroke.share !== null && (
        <div className="pull-margin pull-margin-stroke" aria-hidden="true" data-alarm={strokeIs !== null}>
          <div className="pull-fill" style={{ transform: `scaleY(${clamped(stroke.share)})` }} />
          <span className="pull-margin-word">{words.stroke}</span>
        </div>
      )}
      {strokeIs !== null && (
        <div className="trouble warning" role="alert">
          <strong>{words.strokeNear.where}:</strong>{' '}
          {strokeIs === 'end'
            ? words.strokeEnd
            : mark(words.strokeNear.what(left === null ? null : plainNumber(left, 1)))}{' '}
          {words.strokeNear.cure}
        </div>
      )}
    </>
  )
}

const clamped = (share: number): number => Math.min(1, Math.max(0, share))

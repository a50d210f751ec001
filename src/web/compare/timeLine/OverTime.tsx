import { useMemo } from 'react'
import type { Comparison } from '../../../core/statistics/document.ts'
import { timeLineFigure } from '../../../publish/figure/timeLineFigure.ts'
import { useMark } from '../../app/units.tsx'
import type { OpenStudy } from '../../data/backend.ts'
import { Problems } from '../../parts/Problems.tsx'
import { useWidth } from '../../parts/useWidth.ts'
import { texts } from '../../texts/index.ts'
import { useTimeLine } from './useTimeLine.ts'

const t = texts.compare

/** Control variant, daily checks and re-readings on one time line, and what it says. */
export function OverTime({ opens, comparison }: { opens: readonly OpenStudy[]; comparison: Comparison }) {
  const mark = useMark()
  const { ref, width } = useWidth()
  const { line, control, error } = useTimeLine(opens, comparison)
  const svg = useMemo(
    () => (line && width > 0 ? timeLineFigure(line, { width: Math.max(320, width) }) : null),
    [line, width],
  )
  if (control === null) return <p className="pencil">{t.noControl}</p>
  if (error) return <Problems error={error} />
  if (line === null) return <p className="pencil">{t.counting}</p>
  return (
    <section>
      <p>{mark(line.verdict)}</p>
      <figure className="compare-over-time" ref={ref}>
        {svg && (
          <img
            src={`data:image/svg+xml,${encodeURIComponent(svg)}`}
            alt={t.overTimeLabel(control, line.control.days.length, line.checks.days.length)}
          />
        )}
        <figcaption className="pencil small">{t.overTimeAlarms}</figcaption>
      </figure>
      {line.warnings.map(({ code, text }) => (
        <p key={code} className="warning">
          {mark(text)}
        </p>
      ))}
    </section>
  )
}

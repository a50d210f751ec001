import { scaleLinear } from 'd3-scale'
import { checkChart } from '../../../core/calibration/checkChart.ts'
import type { Check } from '../../../core/calibration/checkDocument.ts'
import { errorPctOf } from '../../../core/calibration/judgeCheck.ts'
import { useMark } from '../../app/units.tsx'
import { useWidth } from '../../parts/useWidth.ts'
import { texts } from '../../texts/index.ts'

const t = texts.rig
const HEIGHT = 200
const LEFT = 64
const RIGHT = 12
const TOP = 12
const BOTTOM = HEIGHT - 32

/** The checks with one mass under one calibration, day after day, against the limits that the first of them set. */
export function CheckChart({ checks }: { checks: readonly Check[] }) {
  const { ref, width } = useWidth()
  const mark = useMark()
  const values = checks.map(errorPctOf)
  const last = checks.at(-1)
  const limits =
    last &&
    checkChart(
      checks.slice(0, -1).map(check => ({ value: errorPctOf(check), sound: check.verdict === 'within' })),
      errorPctOf(last),
      (100 * last.indicatedStandardN) / last.appliedN,
    )
  const shown = [0, ...values, ...(limits ? [limits.low, limits.high] : [])]
  const margin = Math.max(0.05, 0.15 * (Math.max(...shown) - Math.min(...shown)))
  const x = scaleLinear(
    [0, Math.max(1, values.length - 1)],
    [LEFT + 12, Math.max(LEFT + 24, width - RIGHT - 12)],
  )
  const y = scaleLinear([Math.min(...shown) - margin, Math.max(...shown) + margin], [BOTTOM, TOP])
  if (!last) return null
  const first = checks[0]!
  return (
    <figure className="rig-chart" ref={ref}>
      {width > 0 && (
        <svg
          width={width}
          height={HEIGHT}
          role="img"
          aria-label={t.chartLabel(checks.length, values.at(-1)!.toFixed(2))}
        >
          {y.ticks(5).map(pct => (
            <g key={pct}>
              <line className="rig-rule" x1={LEFT} x2={width - RIGHT} y1={y(pct)} y2={y(pct)} />
              <text x={LEFT - 6} y={y(pct) + 4} textAnchor="end">
                {mark(`${String(Number(pct.toFixed(3))).replace('-', '−')} %`)}
              </text>
            </g>
          ))}
          {limits &&
            [limits.low, limits.high].map(pct => (
              <line key={pct} className="rig-limit" x1={LEFT} x2={width - RIGHT} y1={y(pct)} y2={y(pct)} />
            ))}
          <polyline className="rig-drift" points={values.map((pct, i) => `${x(i)},${y(pct)}`).join(' ')} />
          {checks.map((check, i) => (
            <circle
              key={check.at}
              className="rig-dot"
              data-verdict={check.verdict}
              cx={x(i)}
              cy={y(values[i]!)}
              r={5}
            />
          ))}
          <text x={LEFT} y={HEIGHT - 8}>
            {first.at.slice(0, 10)}
          </text>
          {checks.length > 1 && (
            <text x={width - RIGHT} y={HEIGHT - 8} textAnchor="end">
              {last.at.slice(0, 10)}
            </text>
          )}
        </svg>
      )}
      <figcaption className="pencil small">{limits ? t.chartLimits : t.chartNoLimits}</figcaption>
    </figure>
  )
}

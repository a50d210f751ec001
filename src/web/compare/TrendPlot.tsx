import { scaleLinear } from 'd3-scale'
import { withPractice } from '../../core/reading/practice.ts'
import { numberIn } from '../../core/statistics/compare/factor.ts'
import { withUnit } from '../../core/statistics/compare/words.ts'
import { axisText } from '../../publish/figure/axisText.ts'
import { useMark } from '../app/units.tsx'
import { useWidth } from '../parts/useWidth.ts'
import { texts } from '../texts/index.ts'
import { keyOf } from './comparedStudies.ts'
import type { Plane } from './plane.ts'
import { figureText, halfOf, spanText } from './shown.ts'

const t = texts.compare
const HEIGHT_PX = 320
const LEFT_PX = 56
const RIGHT_PX = 16
const BOTTOM_PX = HEIGHT_PX - 48

/** Every specimen over the number in its variant's name, with the curve of the mean and the band that holds all of it. */
export function TrendPlot({ comparison, shown, names, hovered, onHover }: Plane) {
  const { ref, width } = useWidth()
  const mark = useMark()
  const { factor } = comparison
  const curve = factor?.curve
  if (!factor || !curve) return <p className="pencil">{t.trendNone}</p>
  const points = comparison.specimens.flatMap(({ group, name, value, dropped }) => {
    const at = numberIn(group)?.at
    return value === null || dropped !== null || at === undefined
      ? []
      : [{ name, at, value: value / shown.per, id: names.find(n => keyOf(n) === keyOf({ group, name }))?.id }]
  })
  const ats = points.map(p => p.at)
  const values = [
    ...points.map(p => p.value),
    ...curve.points.flatMap(p => [p.low / shown.per, p.high / shown.per]),
  ]
  const x = scaleLinear(
    [Math.min(...ats), Math.max(...ats)],
    [LEFT_PX + 10, Math.max(LEFT_PX + 11, width - RIGHT_PX)],
  )
  const y = scaleLinear([Math.min(...values), Math.max(...values)], [BOTTOM_PX, 8]).nice()
  const along = (of: 'low' | 'value' | 'high'): string[] =>
    curve.points.map(p => `${x(p.at)},${y(p[of] / shown.per)}`)
  const slope = withUnit(figureText(factor.slope, halfOf(factor.ci95), shown), shown.unit)
  const caption = t.trendCaption(slope, spanText(factor.ci95, shown), factor.unit)
  return (
    <figure className="compare-trend">
      <div ref={ref}>
        {width > 0 && (
          <svg width={width} height={HEIGHT_PX} className="compare-weibull" role="img">
            <title>{mark(caption)}</title>
            {y.ticks(5).map(value => (
              <g key={value}>
                <line
                  x1={LEFT_PX}
                  x2={width - RIGHT_PX}
                  y1={y(value)}
                  y2={y(value)}
                  className="compare-rule"
                />
                <text x={LEFT_PX - 6} y={y(value) + 4} textAnchor="end">
                  {mark(axisText(value))}
                </text>
              </g>
            ))}
            {[...new Set(ats)].map(at => (
              <text key={at} x={x(at)} y={BOTTOM_PX + 20} textAnchor="middle">
                {mark(axisText(at))}
              </text>
            ))}
            <text x={width - RIGHT_PX} y={HEIGHT_PX - 6} textAnchor="end">
              {factor.unit === '' ? t.trendAxis : `${t.trendAxis}, ${factor.unit}`}
            </text>
            <polygon
              className="compare-band"
              points={[...along('low'), ...along('high').reverse()].join(' ')}
            />
            <polyline className="compare-curve" points={along('value').join(' ')} />
            {points.map(({ name, at, value, id }) => (
              <circle
                key={`${at} ${name}`}
                className="compare-dot-plain"
                cx={x(at)}
                cy={y(value)}
                r={id !== undefined && id === hovered ? 7 : 4}
                onPointerEnter={() => onHover(id ?? null)}
                onPointerLeave={() => onHover(null)}
              >
                <title>{withPractice(name, comparison)}</title>
              </circle>
            ))}
          </svg>
        )}
      </div>
      <figcaption className="pencil small">{mark(withPractice(caption, comparison))}</figcaption>
    </figure>
  )
}

import { scaleLinear } from 'd3-scale'
import { percent } from '../../core/statistics/compare/words.ts'
import type { Plan } from '../../core/statistics/plan/document.ts'
import { useMark } from '../app/units.tsx'
import { useWidth } from '../parts/useWidth.ts'
import { texts } from '../texts/index.ts'

const t = texts.plan
const HEIGHT = 260
const LEFT = 52
const RIGHT = 12
const TOP = 14
const BOTTOM = HEIGHT - 44
const SHARES = [0, 0.5, 0.8, 1]

/** Chance of showing what was asked against the number of each, with the number planned marked. */
export function PowerCurve({ plan: { powerCurve, perGroup } }: { plan: Plan }) {
  const { ref, width } = useWidth()
  const mark = useMark()
  const last = powerCurve.at(-1)?.perGroup ?? 4
  const x = scaleLinear([2, Math.max(4, last)], [LEFT, Math.max(LEFT + 40, width - RIGHT)])
  const y = scaleLinear([0, 1], [BOTTOM, TOP])
  const planned = powerCurve.find(point => point.perGroup === perGroup)
  const ticks = x.ticks(6).filter(Number.isInteger)
  return (
    <figure className="plan-power-figure" ref={ref}>
      {width > 0 && (
        <svg
          width={width}
          height={HEIGHT}
          role="img"
          aria-label={t.powerCurve(planned && percent(planned.power))}
        >
          {SHARES.map(share => (
            <g key={share}>
              <line className="plan-rule" x1={LEFT} x2={width - RIGHT} y1={y(share)} y2={y(share)} />
              <text x={LEFT - 8} y={y(share) + 4} textAnchor="end">
                {share * 100} %
              </text>
            </g>
          ))}
          {ticks.map(n => (
            <text key={n} x={x(n)} y={BOTTOM + 18} textAnchor="middle">
              {n}
            </text>
          ))}
          <text x={(LEFT + width - RIGHT) / 2} y={HEIGHT - 6} textAnchor="middle">
            {t.specimensOfEach}
          </text>
          <polyline
            className="plan-curve"
            points={powerCurve.map(({ perGroup: n, power }) => `${x(n)},${y(power)}`).join(' ')}
          />
          {planned && (
            <>
              <line
                className="plan-planned"
                x1={x(perGroup)}
                x2={x(perGroup)}
                y1={y(planned.power)}
                y2={BOTTOM}
              />
              <circle className="plan-planned-dot" cx={x(perGroup)} cy={y(planned.power)} r={6} />
            </>
          )}
        </svg>
      )}
      <figcaption className="pencil small">
        {planned ? mark(t.powerCaption(perGroup, percent(planned.power))) : t.powerBeyond}
      </figcaption>
    </figure>
  )
}

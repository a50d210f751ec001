import { scaleLinear, scaleLog } from 'd3-scale'
import { withPractice } from '../../core/reading/practice.ts'
import type { ComparedGroup, Comparison } from '../../core/statistics/document.ts'
import { plotPositions, stretch } from '../../core/statistics/group/plotPositions.ts'
import { axisText } from '../../publish/figure/axisText.ts'
import { modesOf } from '../../publish/figure/modes.ts'
import { useMark } from '../app/units.tsx'
import { useWidth } from '../parts/useWidth.ts'
import { texts } from '../texts/index.ts'
import { keyOf } from './comparedStudies.ts'
import { Mark } from './Mark.tsx'
import type { Plane } from './plane.ts'
import { rangedText, type Shown } from './shown.ts'
import { variantStyle } from './variantStyle.ts'

const t = texts.compare
const SHARES = [0.01, 0.05, 0.1, 0.2, 0.4, 0.632, 0.8, 0.9, 0.99]
const HEIGHT_PX = 380
const LEFT_PX = 56
const RIGHT_PX = 16

/** Room for a figure under the axis. */
const TICK_PX = 48

/** Those of the ticks that leave room for the figure of the one before. */
function withRoom(ticks: readonly number[], x: (value: number) => number): number[] {
  const kept: number[] = []
  for (const tick of ticks) {
    const last = kept.at(-1)
    if (last === undefined || x(tick) - x(last) >= TICK_PX) kept.push(tick)
  }
  return kept
}

/** Share broken against strength, with the line of each variant's fit: a straight row of points speaks for it. */
export function WeibullPlot({ comparison, shown, names, hovered, onHover }: Plane) {
  const { ref, width } = useWidth()
  const mark = useMark()
  const modes = modesOf(comparison)
  const series = comparison.groups
    .map((group, index) => ({ group, index, points: pointsOf(group, comparison) }))
    .filter(({ points, group }) => points.length >= 3 && group.weibull !== null)
  const values = series.flatMap(({ points }) => points.map(({ value }) => value / shown.per))
  const x = scaleLog(values.length > 0 ? [Math.min(...values) / 1.1, Math.max(...values) * 1.1] : [1, 10], [
    LEFT_PX,
    Math.max(LEFT_PX + 1, width - RIGHT_PX),
  ])
  const y = scaleLinear([stretch(0.008), stretch(0.992)], [HEIGHT_PX - 32, 8])
  const xTicks = withRoom(x.ticks(5), x)
  return (
    <section>
      {series.length === 0 ? (
        <p className="pencil">{t.weibullNone}</p>
      ) : (
        <>
          <div ref={ref}>
            <svg width={width} height={HEIGHT_PX} className="compare-weibull" role="img">
              <title>
                {mark(series.map(({ group }) => withPractice(fitWords(group, shown), comparison)).join('; '))}
              </title>
              {SHARES.map(share => (
                <g key={share}>
                  <line
                    x1={LEFT_PX}
                    x2={width - RIGHT_PX}
                    y1={y(stretch(share))}
                    y2={y(stretch(share))}
                    className="compare-rule"
                  />
                  <text x={LEFT_PX - 6} y={y(stretch(share)) + 4} textAnchor="end">
                    {mark(`${Number((share * 100).toPrecision(3))} %`)}
                  </text>
                </g>
              ))}
              {xTicks.map(value => (
                <text key={value} x={x(value)} y={HEIGHT_PX - 10} textAnchor="middle">
                  {mark(axisText(value))}
                </text>
              ))}
              {series.map(({ group, index, points }) => {
                const { colour, dashes } = variantStyle(index)
                const ends = fitLine(group)
                return (
                  <g key={group.name}>
                    {ends && (
                      <line
                        x1={x(ends[0].value / shown.per)}
                        y1={y(stretch(ends[0].share))}
                        x2={x(ends[1].value / shown.per)}
                        y2={y(stretch(ends[1].share))}
                        stroke={colour}
                        strokeWidth="1.5"
                        strokeDasharray={dashes || undefined}
                      />
                    )}
                    {points.map(({ name, value, share, mode }) => {
                      const id =
                        names.find(one => keyOf(one) === keyOf({ group: group.name, name }))?.id ?? null
                      return (
                        <g key={name} onPointerEnter={() => onHover(id)} onPointerLeave={() => onHover(null)}>
                          <title>{name}</title>
                          {id !== null && hovered === id && (
                            <circle
                              cx={x(value / shown.per)}
                              cy={y(stretch(share))}
                              r="10"
                              className="compare-halo"
                            />
                          )}
                          <Mark
                            mode={modes.indexOf(mode)}
                            x={x(value / shown.per)}
                            y={y(stretch(share))}
                            open={false}
                            colour={colour}
                            size={5}
                          />
                        </g>
                      )
                    })}
                  </g>
                )
              })}
            </svg>
          </div>
          <ul className="plain-list">
            {series.map(({ group, index }) => (
              <li key={group.name}>
                <svg width="20" height="16" viewBox="-10 -8 20 16" aria-hidden="true">
                  <line
                    x1={-10}
                    x2={10}
                    y1={0}
                    y2={0}
                    stroke={variantStyle(index).colour}
                    strokeWidth="2.5"
                    strokeDasharray={variantStyle(index).dashes || undefined}
                  />
                </svg>{' '}
                {mark(withPractice(fitWords(group, shown), comparison))}
              </li>
            ))}
          </ul>
          <p className="pencil small">{t.weibullIntervals}</p>
        </>
      )}
    </section>
  )
}

/** `paste: shape 9.1 (4.2 to 17), scale 68 kgf (64 to 72 kgf)`. */
const fitWords = ({ name, weibull }: ComparedGroup, shown: Shown): string =>
  `${name}: ${t.weibullFit(
    rangedText(weibull?.shape ?? null, weibull?.shape95 ?? null, { unit: '', per: 1 }),
    rangedText(weibull?.scale ?? null, weibull?.scale95 ?? null, shown),
  )}`

/** Measured specimens with the share that had broken by their value; those that only reached theirs move the ranks. */
function pointsOf(
  group: ComparedGroup,
  { specimens }: Comparison,
): { name: string; value: number; share: number; mode: string | null }[] {
  const own = specimens.flatMap(({ name, group: of, value, dropped, status, mode }) =>
    of === group.name && value !== null && value > 0 && dropped === null
      ? [{ name, value, status, mode }]
      : [],
  )
  const positions = plotPositions(
    own.map(({ value }) => value),
    own.map(({ status }) => status === 'at-least'),
  )
  return positions.map(({ index, value, probability }) => ({
    name: own[index]?.name ?? '',
    value,
    share: probability,
    mode: own[index]?.mode ?? null,
  }))
}

/** The fit's line between 1 % and 99 %: F(x) = 1 − exp(−(x/scale)^shape). */
function fitLine({ weibull }: ComparedGroup) {
  if (!weibull) return null
  const at = (share: number) => ({
    share,
    value: weibull.scale * (-Math.log1p(-share)) ** (1 / weibull.shape),
  })
  return [at(0.01), at(0.99)] as const
}

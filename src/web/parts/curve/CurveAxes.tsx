import { scaleLinear } from 'd3-scale'
import { fromNewton, type ShownUnit } from '../../../core/units/force.ts'
import { axisText } from '../../../publish/figure/axisText.ts'
import type { Plane } from './paint.ts'

const TICK_ROOM_X = 80
const TICK_ROOM_Y = 46

/** The axes around a plot: the person's unit on the left, newton on the right where it is another. */
export function CurveAxes({
  plane: { view, lowN, highN, width, height },
  unit,
  along,
  axisY,
  withNewton,
  mark,
}: {
  plane: Plane
  unit: ShownUnit
  /** What the lower axis measures, with its unit: `time, s`. */
  along: string
  /** Height of the lower axis, under the selvedge. */
  axisY: number
  withNewton: boolean
  mark: (text: string) => string
}) {
  const x = scaleLinear([view.from, view.to], [0, width])
  const yUnit = scaleLinear([fromNewton(lowN, unit), fromNewton(highN, unit)], [height, 0])
  const yN = scaleLinear([lowN, highN], [height, 0])
  const ticksX = Math.max(2, Math.min(10, Math.floor(width / TICK_ROOM_X)))
  const ticksY = Math.max(2, Math.min(8, Math.floor(height / TICK_ROOM_Y)))
  const show = (scale: typeof x, ticks: number) =>
    scale.ticks(ticks).map(value => ({ at: scale(value), text: mark(axisText(value)) }))
  return (
    <g className="curve-axes">
      {show(yUnit, ticksY).map(({ at, text }) => (
        <g key={text} transform={`translate(0 ${at})`}>
          <line className="curve-rule" x1={0} x2={width} />
          <line x1={-5} x2={0} />
          <text x={-8} dy="0.35em" textAnchor="end">
            {text}
          </text>
        </g>
      ))}
      <text x={-8} y={-12} textAnchor="end">
        {unit}
      </text>
      {withNewton && (
        <>
          {show(yN, ticksY).map(({ at, text }) => (
            <g key={text} transform={`translate(${width} ${at})`}>
              <line x1={0} x2={5} />
              <text x={8} dy="0.35em">
                {text}
              </text>
            </g>
          ))}
          <text x={width + 8} y={-12}>
            N
          </text>
          <line x1={width} x2={width} y1={0} y2={height} />
        </>
      )}
      <line x1={0} x2={0} y1={0} y2={height} />
      {lowN < 0 && highN > 0 && <line className="curve-nought" x1={0} x2={width} y1={yN(0)} y2={yN(0)} />}
      <g transform={`translate(0 ${axisY})`}>
        <line x1={0} x2={width} />
        {show(x, ticksX).map(({ at, text }) => (
          <g key={text} transform={`translate(${at} 0)`}>
            {at > 0 && <line className="curve-rule" y1={-axisY} y2={height - axisY} />}
            <line y2={5} />
            <text y={18} textAnchor="middle">
              {text}
            </text>
          </g>
        ))}
        <text x={width} y={33} textAnchor="end">
          {along}
        </text>
      </g>
    </g>
  )
}

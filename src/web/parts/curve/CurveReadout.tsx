import { fromNewton, type ShownUnit } from '../../../core/units/force.ts'
import { threeDigits } from '../../../core/units/showForce.ts'
import { forceAt, type Plane } from './paint.ts'
import type { Slice } from './slices.ts'
import type { CurveLine, CurveTick } from './types.ts'

/** What the front line reads at the place that is pointed at. */
export function CurveReadout({
  at,
  drawn,
  plane: { view, width, height, lowN, highN },
  unit,
  alongUnit,
  tick,
  mark,
}: {
  at: number | null
  drawn: readonly { readonly line: CurveLine; readonly slice: Slice | null }[]
  plane: Plane
  unit: ShownUnit
  alongUnit: string
  /** What happened where it is pointed at. */
  tick: CurveTick | null
  mark: (text: string) => string
}) {
  const front = drawn.at(-1)
  const forceN = at === null || !front?.slice ? null : forceAt(front.slice, at)
  if (at === null || forceN === null || at < view.from || at > view.to) return null
  const x = ((at - view.from) / (view.to - view.from)) * width
  const y = ((highN - forceN) / (highN - lowN)) * height
  const digits = Math.max(0, Math.min(4, 2 - Math.floor(Math.log10((view.to - view.from) / 10))))
  return (
    <g className="curve-readout">
      <line x1={x} x2={x} y1={0} y2={height} />
      <circle cx={x} cy={y} r={3.5} />
      <text x={width} y={16} textAnchor="end">
        {mark(`${at.toFixed(digits)} ${alongUnit} · ${threeDigits(fromNewton(forceN, unit))} ${unit}`)}
      </text>
      {tick && (
        <text x={width} y={34} textAnchor="end">
          {mark(tick.title)}
        </text>
      )}
    </g>
  )
}

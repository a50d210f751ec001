import { type PointerEvent, useRef } from 'react'
import type { Plane } from './paint.ts'
import type { View } from './view.ts'

const HANDLE_PX = 24

/** The marked stretch over plot and selvedge, with a handle at either end. */
export function CurveStretch({
  stretch,
  whole,
  plane: { view, width },
  bottom,
  atOf,
  onStretch,
}: {
  stretch: View
  whole: View
  plane: Plane
  /** How far down it reaches, in CSS pixels from the top of the plot. */
  bottom: number
  atOf: (clientX: number) => number
  onStretch?: ((stretch: View) => void) | undefined
}) {
  const held = useRef<'from' | 'to' | null>(null)
  const xOf = (at: number) => ((at - view.from) / (view.to - view.from)) * width
  const [x1, x2] = [Math.max(0, xOf(stretch.from)), Math.min(width, xOf(stretch.to))]
  const handle = (end: 'from' | 'to', x: number) =>
    onStretch &&
    x >= 0 &&
    x <= width && (
      <rect
        className="curve-handle"
        x={x - HANDLE_PX / 2}
        width={HANDLE_PX}
        height={bottom}
        onPointerDown={(event: PointerEvent<SVGRectElement>) => {
          event.currentTarget.setPointerCapture(event.pointerId)
          held.current = end
        }}
        onPointerMove={event => {
          if (held.current !== end) return
          const at = Math.min(Math.max(atOf(event.clientX), whole.from), whole.to)
          const next = end === 'from' ? { from: at, to: stretch.to } : { from: stretch.from, to: at }
          if (next.to > next.from) onStretch(next)
        }}
        onPointerUp={() => {
          held.current = null
        }}
        onPointerCancel={() => {
          held.current = null
        }}
      />
    )
  if (x2 < x1) return null
  return (
    <g className="curve-stretch">
      <rect className="curve-stretch-ground" x={x1} width={Math.max(1, x2 - x1)} height={bottom} />
      <line x1={x1} x2={x1} y2={bottom} />
      <line x1={x2} x2={x2} y2={bottom} />
      {handle('from', xOf(stretch.from))}
      {handle('to', xOf(stretch.to))}
    </g>
  )
}

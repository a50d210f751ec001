import { type PointerEvent, useRef } from 'react'
import type { Layout } from './layout.ts'
import type { CurveMovable } from './types.ts'
import type { View } from './view.ts'

/** What a finger can take hold of. */
const LEAST_PX = 24
const KEY_PX = 4
const FAR = 10

/** A part of the line that is moved along the axis: dragged, or by the arrow keys (with Shift farther, 0 back). */
export function CurvePart({
  part,
  view,
  layout: { left, top, width, height },
}: {
  part: CurveMovable
  view: View
  layout: Layout
}) {
  const held = useRef<{ readonly x: number; readonly by: number } | null>(null)
  const perPx = (view.to - view.from) / Math.max(1, width)
  const decimals = Math.max(0, Math.ceil(-Math.log10(perPx)))
  const move = (by: number) => part.onMove(Number(by.toFixed(decimals)))
  const [x1, x2] = [part.from, part.to].map(at => (at - view.from) / perPx) as [number, number]
  const [from, to] = [Math.max(0, x1), Math.min(width, Math.max(x2, x1 + LEAST_PX))]
  if (!(to > from)) return null
  const reach = part.whole.to - part.whole.from
  const letGo = () => {
    held.current = null
  }
  return (
    <div
      role="slider"
      tabIndex={0}
      className="curve-part"
      aria-label={part.label}
      aria-orientation="horizontal"
      aria-valuemin={-reach}
      aria-valuemax={reach}
      aria-valuenow={part.by}
      aria-valuetext={part.words}
      title={part.label}
      style={{ left: left + from, width: to - from, top, height }}
      onPointerDown={(event: PointerEvent<HTMLElement>) => {
        if (event.button !== 0) return
        event.currentTarget.setPointerCapture(event.pointerId)
        held.current = { x: event.clientX, by: part.by }
      }}
      onPointerMove={event => {
        if (held.current) move(held.current.by + (event.clientX - held.current.x) * perPx)
      }}
      onPointerUp={letGo}
      onPointerCancel={letGo}
      onKeyDown={event => {
        if (event.ctrlKey || event.metaKey || event.altKey) return
        const step = stepOf(event.key, event.shiftKey)
        if (step === null && event.key !== '0') return
        event.preventDefault()
        move(step === null ? 0 : part.by + step * KEY_PX * perPx)
      }}
    >
      <span aria-hidden="true">↔ {part.words}</span>
    </div>
  )
}

/** In steps, of which a far one is ten; `null` for a key that does not move. */
function stepOf(key: string, far: boolean): number | null {
  switch (key) {
    case 'ArrowLeft':
    case 'ArrowDown':
      return far ? -FAR : -1
    case 'ArrowRight':
    case 'ArrowUp':
      return far ? FAR : 1
    case 'PageDown':
      return -FAR
    case 'PageUp':
      return FAR
    default:
      return null
  }
}

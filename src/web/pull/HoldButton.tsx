import { type ReactNode, useEffect, useRef, useState } from 'react'
import { HOLD_MS } from './usePullKeys.ts'

/** A button that acts only when it is kept down for a second, by finger, mouse or the Enter key. */
export function HoldButton({ onHeld, children }: { onHeld: () => void; children: ReactNode }) {
  const timer = useRef<ReturnType<typeof setTimeout> | null>(null)
  const [isHeld, setHeld] = useState(false)
  const letGo = () => {
    if (timer.current !== null) clearTimeout(timer.current)
    timer.current = null
    setHeld(false)
  }
  const begin = () => {
    setHeld(true)
    timer.current ??= setTimeout(() => {
      letGo()
      onHeld()
    }, HOLD_MS)
  }
  useEffect(
    () => () => {
      if (timer.current !== null) clearTimeout(timer.current)
    },
    [],
  )
  return (
    <button
      type="button"
      className="button pull-hold"
      data-held={isHeld}
      onPointerDown={begin}
      onPointerUp={letGo}
      onPointerLeave={letGo}
      onPointerCancel={letGo}
      onKeyDown={event => {
        if (event.key === 'Enter' && !event.repeat) begin()
      }}
      onKeyUp={letGo}
      onBlur={letGo}
    >
      {children}
    </button>
  )
}

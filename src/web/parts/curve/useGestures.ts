import { type KeyboardEvent, type PointerEvent, useCallback, useEffect, useRef } from 'react'
import { panned, type View, viewByKey, within, zoomed } from './view.ts'

interface Given {
  readonly view: View
  readonly whole: View
  setView(view: View): void
  /** Left edge and width of the plot on the screen, in CSS pixels. */
  plotBox(): { readonly left: number; readonly width: number }
  /** A drag marks a stretch instead of moving the view. With Shift it always does. */
  readonly marking: boolean
  onStretch?: ((from: number, to: number) => void) | undefined
  /** A press without a drag. */
  onPress(pressed: { readonly at: number; readonly clientY: number; readonly marks: boolean }): void
}

/** Movement below this many pixels is a click. */
const CLICK_PX = 4
const WHEEL_PER_PX = 0.0025

/**
 * Drag, wheel, pinch and keys of a curve. The wheel zooms where the curve has the focus or Ctrl is held (as a pinch on
 * a touch pad is told), so that a page can be scrolled past it.
 */
export function useGestures(given: Given) {
  const now = useRef(given)
  now.current = given
  const pointers = useRef(new Map<number, number>())
  const drag = useRef<{ startX: number; from: View; startAt: number; marks: boolean } | null>(null)
  const pinch = useRef<{ apart: number; middleAt: number; from: View } | null>(null)

  const atOf = (clientX: number): number => {
    const { view, plotBox } = now.current
    const { left, width } = plotBox()
    return view.from + ((clientX - left) / width) * (view.to - view.from)
  }
  const put = useCallback((view: View) => {
    // The next event of the same frame goes on from here.
    now.current = { ...now.current, view }
    now.current.setView(view)
  }, [])

  const onPointerDown = (event: PointerEvent<HTMLElement | SVGElement>, alwaysMarks = false) => {
    if (event.button !== 0) return
    event.currentTarget.setPointerCapture(event.pointerId)
    pointers.current.set(event.pointerId, event.clientX)
    const xs = [...pointers.current.values()]
    const { view, marking } = now.current
    if (xs.length === 2) {
      drag.current = null
      const [a = 0, b = 0] = xs
      pinch.current = { apart: Math.max(1, Math.abs(a - b)), middleAt: atOf((a + b) / 2), from: view }
    } else if (xs.length === 1)
      drag.current = {
        startX: event.clientX,
        from: view,
        startAt: atOf(event.clientX),
        marks: marking || alwaysMarks || event.shiftKey,
      }
  }

  const onPointerMove = (event: PointerEvent<HTMLElement | SVGElement>) => {
    if (!pointers.current.has(event.pointerId)) return
    pointers.current.set(event.pointerId, event.clientX)
    const { whole, plotBox, onStretch } = now.current
    const { left, width } = plotBox()
    if (pinch.current && pointers.current.size === 2) {
      const [a = 0, b = 0] = [...pointers.current.values()]
      const { apart, middleAt, from } = pinch.current
      const span = ((from.to - from.from) * apart) / Math.max(1, Math.abs(a - b))
      const share = ((a + b) / 2 - left) / width
      put(within({ from: middleAt - share * span, to: middleAt + (1 - share) * span }, whole))
      return
    }
    const { current } = drag
    if (!current || Math.abs(event.clientX - current.startX) < CLICK_PX) return
    if (current.marks) {
      const at = Math.min(Math.max(atOf(event.clientX), whole.from), whole.to)
      onStretch?.(Math.min(at, current.startAt), Math.max(at, current.startAt))
    } else put(panned(current.from, whole, (current.startX - event.clientX) / width))
  }

  const onPointerUp = (event: PointerEvent<HTMLElement | SVGElement>) => {
    pointers.current.delete(event.pointerId)
    const { current } = drag
    if (current && event.type === 'pointerup' && Math.abs(event.clientX - current.startX) < CLICK_PX)
      now.current.onPress({ at: current.startAt, clientY: event.clientY, marks: current.marks })
    pinch.current = null
    drag.current = null
  }

  const onKeyDown = (event: KeyboardEvent) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return
    const { view, whole } = now.current
    const next = viewByKey(event.key, event.shiftKey, view, whole)
    if (!next) return
    event.preventDefault()
    put(next)
  }

  const onWheel = useCallback(
    (event: WheelEvent) => {
      const { view, whole, plotBox } = now.current
      const pad = event.currentTarget
      if (!(pad instanceof HTMLElement) || !(event.ctrlKey || document.activeElement === pad)) return
      event.preventDefault()
      const { left, width } = plotBox()
      if (Math.abs(event.deltaX) > Math.abs(event.deltaY)) put(panned(view, whole, event.deltaX / width))
      else {
        const at = view.from + ((event.clientX - left) / width) * (view.to - view.from)
        put(zoomed(view, whole, Math.exp(-event.deltaY * WHEEL_PER_PX), at))
      }
    },
    [put],
  )

  return { onPointerDown, onPointerMove, onPointerUp, onKeyDown, onWheel }
}

/** A wheel listener that may hold the page still; React's own may not. */
export function useWheel(
  pad: { readonly current: HTMLElement | null },
  onWheel: (event: WheelEvent) => void,
): void {
  useEffect(() => {
    const element = pad.current
    element?.addEventListener('wheel', onWheel, { passive: false })
    return () => element?.removeEventListener('wheel', onWheel)
  }, [pad, onWheel])
}

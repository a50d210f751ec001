import { type PointerEvent, useState } from 'react'

/** Nearer than this to an edge of the window, px, the page goes on. */
const EDGE_PX = 48

function scrollNear(y: number): void {
  if (y < EDGE_PX) scrollBy(0, -EDGE_PX / 2)
  if (y > innerHeight - EDGE_PX) scrollBy(0, EDGE_PX / 2)
}

/**
 * Dragging a line of a list to another place, by mouse, pen or finger. Lines carry `data-line` with their key; `order`
 * is that of the keys as they are shown while one is dragged.
 */
export function useDragging(keys: readonly string[], onDrop: (key: string, to: number) => void) {
  const [dragged, setDragged] = useState<{ readonly key: string; readonly to: number } | null>(null)
  const order =
    dragged === null ? keys : keys.filter(key => key !== dragged.key).toSpliced(dragged.to, 0, dragged.key)
  const handle = (key: string) => ({
    onPointerDown(event: PointerEvent<HTMLElement>) {
      if (event.button !== 0) return
      event.preventDefault()
      event.currentTarget.setPointerCapture(event.pointerId)
      setDragged({ key, to: keys.indexOf(key) })
    },
    onPointerMove(event: PointerEvent<HTMLElement>) {
      if (dragged === null) return
      scrollNear(event.clientY)
      const over = document.elementFromPoint(event.clientX, event.clientY)?.closest('[data-line]')
      const to = order.indexOf(over?.getAttribute('data-line') ?? '')
      if (to >= 0 && to !== dragged.to) setDragged({ ...dragged, to })
    },
    onPointerUp() {
      if (dragged !== null && dragged.to !== keys.indexOf(dragged.key)) onDrop(dragged.key, dragged.to)
      setDragged(null)
    },
    onPointerCancel: () => setDragged(null),
  })
  return { order, dragged: dragged?.key ?? null, handle }
}

import { useCallback, useState } from 'react'

/** The width of an element in px, as it is now: 0 until it is on the page. */
export function useWidth(): { ref(element: HTMLElement | null): (() => void) | undefined; width: number } {
  const [width, setWidth] = useState(0)
  const ref = useCallback((element: HTMLElement | null) => {
    if (!element) return
    const observer = new ResizeObserver(([entry]) => setWidth(Math.floor(entry?.contentRect.width ?? 0)))
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  return { ref, width }
}

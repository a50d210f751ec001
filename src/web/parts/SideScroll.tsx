import { type ReactNode, useCallback } from 'react'

/** What may be wider than the screen: it scrolls by itself, and by keys, for which it takes the focus while there is a need. */
export function SideScroll({ label, children }: { label: string; children: ReactNode }) {
  const ref = useCallback((element: HTMLElement | null) => {
    if (!element) return
    const observer = new ResizeObserver(() => {
      if (element.scrollWidth > element.clientWidth) element.tabIndex = 0
      else element.removeAttribute('tabindex')
    })
    observer.observe(element)
    return () => observer.disconnect()
  }, [])
  return (
    <section ref={ref} className="scroll-x" aria-label={label}>
      {children}
    </section>
  )
}

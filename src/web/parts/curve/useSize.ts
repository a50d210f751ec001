import { type RefObject, useLayoutEffect, useState } from 'react'

/** Width and height of an element in CSS pixels, and again whenever they change; 0 before it is laid out. */
export function useSize(of: RefObject<HTMLElement | null>): {
  readonly width: number
  readonly height: number
} {
  const [size, setSize] = useState({ width: 0, height: 0 })
  useLayoutEffect(() => {
    const element = of.current
    if (!element) return
    const put = () => {
      const [width, height] = [element.clientWidth, element.clientHeight]
      setSize(was => (was.width === width && was.height === height ? was : { width, height }))
    }
    put()
    const watch = new ResizeObserver(put)
    watch.observe(element)
    return () => watch.disconnect()
  }, [of])
  return size
}

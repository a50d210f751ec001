import { type RefObject, useEffect, useRef, useState } from 'react'

/** Whether an element has come into view: what stands below the edge of a long shelf is not counted before. */
export function useSeen<T extends Element>(): [boolean, RefObject<T | null>] {
  const place = useRef<T>(null)
  const [seen, setSeen] = useState(false)
  useEffect(() => {
    if (!place.current) return
    const watch = new IntersectionObserver(entries => {
      if (entries.some(entry => entry.isIntersecting)) setSeen(true)
    })
    watch.observe(place.current)
    return () => watch.disconnect()
  }, [])
  return [seen, place]
}

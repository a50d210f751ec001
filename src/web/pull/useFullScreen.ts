import { type RefObject, useCallback, useEffect, useState } from 'react'

/** Whether an element fills the screen, and the way there and back. */
export function useFullScreen(of: RefObject<HTMLElement | null>): {
  readonly isFull: boolean
  readonly toggle: () => void
} {
  const [isFull, setFull] = useState(false)
  useEffect(() => {
    const see = () => setFull(document.fullscreenElement !== null)
    document.addEventListener('fullscreenchange', see)
    return () => document.removeEventListener('fullscreenchange', see)
  }, [])
  const toggle = useCallback(() => {
    const done = document.fullscreenElement ? document.exitFullscreen() : of.current?.requestFullscreen()
    // Refused by the browser, as on some phones: the page stays as it is.
    done?.catch(() => {})
  }, [of])
  return { isFull, toggle }
}

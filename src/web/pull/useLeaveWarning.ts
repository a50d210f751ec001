import { useEffect } from 'react'

/** Lets the browser ask before the window is closed: for a window that nobody goes on recording without. */
export function useLeaveWarning(isWanted: boolean): void {
  useEffect(() => {
    if (!isWanted) return
    const ask = (event: BeforeUnloadEvent) => event.preventDefault()
    addEventListener('beforeunload', ask)
    return () => removeEventListener('beforeunload', ask)
  }, [isWanted])
}

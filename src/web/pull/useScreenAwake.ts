import { useEffect } from 'react'

/** Keeps the screen from going dark while `isWanted`. Browsers without the way to ask simply do not. */
export function useScreenAwake(isWanted: boolean): void {
  useEffect(() => {
    if (!isWanted || !('wakeLock' in navigator)) return
    let lock: WakeLockSentinel | null = null
    let over = false
    const ask = () => {
      if (document.visibilityState !== 'visible') return
      navigator.wakeLock.request('screen').then(
        given => {
          if (over) void given.release()
          else lock = given
        },
        () => {
          // Refused, as on a low battery: the screen may then go dark; nothing else changes.
        },
      )
    }
    ask()
    // The browser takes it back when the page is hidden.
    document.addEventListener('visibilitychange', ask)
    return () => {
      over = true
      document.removeEventListener('visibilitychange', ask)
      void lock?.release()
    }
  }, [isWanted])
}

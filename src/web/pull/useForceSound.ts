import { useEffect, useRef } from 'react'
import { useLiveStore } from '../live/useLive.tsx'
import { type ForceSound, startForceSound } from './forceSound.ts'

/** Off until asked for. The pitch follows the force as a share of `fullN`; each part that lets go clicks once. */
export function useForceSound(isOn: boolean, fullN: number | null): void {
  const store = useLiveStore()
  const full = useRef(fullN)
  full.current = fullN
  useEffect(() => {
    if (!isOn) return
    const sound: ForceSound = startForceSound()
    const clicked = new Set<number>()
    const leave = store.onMessage(message => {
      if (message.kind === 'figures') {
        const { forceN, peakN } = message.figures
        // With nothing planned the greatest force so far is the scale.
        const scaleN = full.current ?? peakN
        sound.follow(forceN !== null && scaleN !== null && scaleN > 0 ? forceN / scaleN : 0)
      }
      if (message.kind !== 'event') return
      const { id, kind, settled } = message.event
      if ((kind === 'partial-break' || kind === 'break') && settled && !clicked.has(id)) {
        clicked.add(id)
        sound.click()
      }
    })
    return () => {
      leave()
      sound.stop()
    }
  }, [isOn, store])
}

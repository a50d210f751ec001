import { useEffect, useState } from 'react'
import { useBench } from '../app/context.tsx'
import { got } from '../data/trouble.ts'
import type { JoinedLook } from '../engine/types.ts'
import type { Shown } from './ReadCurve.tsx'

/** The pulls of a reading as one curve, once that is wanted; the last one stays while the next is on its way. */
export function useJoined(shown: Shown | null, isWanted: boolean): JoinedLook | null {
  const { engine } = useBench()
  const [joined, setJoined] = useState<JoinedLook | null>(null)
  useEffect(() => {
    if (!shown || !isWanted) return
    let isOver = false
    engine
      .joined(shown.at)
      .then(answer => {
        if (!isOver) setJoined(got(answer))
      })
      // The reading itself tells what is wrong with the engine.
      .catch(() => {})
    return () => {
      isOver = true
    }
  }, [engine, shown, isWanted])
  return joined
}

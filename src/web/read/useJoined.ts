import { useEffect, useState } from 'react'
import { useBench } from '../app/context.tsx'
import { got } from '../data/trouble.ts'
import type { JoinedLook, LookAt, TimeSpan } from '../engine/types.ts'
import type { Shown } from './ReadCurve.tsx'

/** A joined curve, and the reading that it was made from. */
export interface Joined {
  readonly look: JoinedLook
  readonly at: LookAt
}

/**
 * The pulls of a reading as one curve, once that is wanted, and where on it a part lies; the last one stays while the
 * next of the same samples is on its way.
 */
export function useJoined(shown: Shown | null, part: TimeSpan | null, isWanted: boolean): Joined | null {
  const { engine } = useBench()
  const [joined, setJoined] = useState<Joined | null>(null)
  const { fromS, toS } = part ?? NOWHERE
  useEffect(() => {
    if (!shown || !isWanted) return
    let isOver = false
    engine
      .joined(shown.at, fromS === null ? null : { fromS, toS })
      .then(answer => {
        if (isOver) return
        const look = got(answer)
        setJoined(look && { look, at: shown.at })
      })
      // The reading itself tells what is wrong with the engine.
      .catch(() => {})
    return () => {
      isOver = true
    }
  }, [engine, shown, fromS, toS, isWanted])
  // Over other samples, as by another rig, it may be in another unit than what is shown by now.
  return joined && shown && isSameSource(joined.at, shown.at) ? joined : null
}

const isSameSource = (a: LookAt, b: LookAt): boolean => JSON.stringify(a.source) === JSON.stringify(b.source)

const NOWHERE = { fromS: null, toS: null }

import { useEffect, useRef, useState } from 'react'
import type { HealthStep } from '../../../core/health/document.ts'
import type { Recording } from '../../../core/recording.ts'
import type { LogForceUnit } from '../../../core/units/force.ts'
import { useLiveStore } from '../../live/useLive.tsx'
import { liveRecording } from './stepRecords.ts'

/** A step that is being recorded from the line. */
export interface StepRecording {
  readonly step: HealthStep | null
  readonly leftS: number
  start(step: HealthStep, lastsS: number): void
  /** Ends it early with what there is. */
  stop(): void
}

/** Gathers what the line sends until a step's time is over, by the line's own clock. Only below a `LiveProvider`. */
export function useStepRecording(
  unit: LogForceUnit,
  onDone: (step: HealthStep, recording: Recording) => void,
): StepRecording {
  const store = useLiveStore()
  const [step, setStep] = useState<HealthStep | null>(null)
  const [leftS, setLeftS] = useState(0)
  const gathered = useRef({ timeS: [] as number[], value: [] as number[], lastsS: 0 })
  const done = useRef(onDone)
  done.current = onDone

  useEffect(() => {
    if (step === null) return
    const end = () => {
      const { timeS, value } = gathered.current
      setStep(null)
      if (timeS.length > 0) done.current(step, liveRecording(step, timeS, value, unit))
    }
    return store.onMessage(message => {
      // The line was opened anew: what comes belongs to another clock.
      if (message.kind === 'snapshot') end()
      if (message.kind !== 'samples') return
      const { timeS, value, lastsS } = gathered.current
      for (let i = 0; i < message.timeS.length; i++) {
        if (timeS.length > 0 && message.timeS[i]! <= timeS.at(-1)!) continue
        timeS.push(message.timeS[i]!)
        value.push(message.forceN[i]!)
      }
      const left = Math.ceil(lastsS - (timeS.at(-1)! - timeS[0]!))
      setLeftS(Math.max(0, left))
      if (left <= 0) end()
    })
  }, [step, store, unit])

  return {
    step,
    leftS,
    start(next, lastsS) {
      gathered.current = { timeS: [], value: [], lastsS }
      setLeftS(lastsS)
      setStep(next)
    },
    stop() {
      if (step === null) return
      const { timeS, value } = gathered.current
      setStep(null)
      if (timeS.length > 0) onDone(step, liveRecording(step, timeS, value, unit))
    },
  }
}

import { useEffect, useState } from 'react'
import { isPractice } from '../../core/study.ts'
import { useUnit } from '../app/units.tsx'
import { useLiveState } from '../live/useLive.tsx'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'
import { Alarms } from './Alarms.tsx'
import { LiveCurve } from './LiveCurve.tsx'
import { LiveHead } from './LiveHead.tsx'
import { momentOf } from './moments.ts'
import { NoteList } from './NoteList.tsx'
import { ReadingNow } from './ReadingNow.tsx'
import { useNight } from './useNight.ts'
import { useScreenAwake } from './useScreenAwake.ts'
import './pull.css'

const words = texts.pull

/** The live view on a second screen: the same figures, and nothing that could change anything. */
export function ScreenPage() {
  const live = useLiveState()
  const unit = useUnit(live.logUnit ?? undefined)
  useNight(true)
  useScreenAwake(true)
  const { capture, plan, reading, ended } = live
  const moment = momentOf({
    isAway: live.server === 'away',
    line: live.line === null ? null : live.lineIs,
    phase: capture?.phase ?? null,
    pulls: capture?.pulls ?? 0,
    isPulling: capture?.pulling ?? false,
    isLoaded: live.isLoaded,
    isAskingZero: false,
    hasEnded: capture?.phase === 'finished',
    hasSpecimen: true,
  })
  const isOver = moment === 'let-go' || moment === 'ended'
  const isLetGo = useLetGo(moment === 'away')
  const name = plan?.about.specimen ?? ''
  const shown = ended?.reading ?? reading?.reading ?? null
  return (
    <main className="notebook pull pull-screen" data-moment={moment}>
      <NextLine>
        <span>
          {moment === 'away'
            ? isLetGo
              ? words.second.letGo
              : words.second.lost
            : live.line === null
              ? words.second.waiting
              : words.second.follows}
        </span>
      </NextLine>
      <Alarms />
      <div className="pull-head">
        <h1>{name === '' ? texts.app.places.pull : name}</h1>
        <p className="pull-state">{words.states[moment]}</p>
      </div>
      {live.line !== null && (
        <>
          <LiveHead
            unit={unit}
            plannedN={null}
            rig={live.rig}
            capacityN={live.rig?.capacityN ?? null}
            isPractice={isPractice({ device: live.line })}
            isSmall={shown !== null && isOver}
          >
            {shown && isOver && (
              <ReadingNow
                reading={shown}
                unit={unit}
                alone={ended?.keptIn === 'store' ? null : words.thisRecording}
              />
            )}
          </LiveHead>
          <LiveCurve unit={unit} name={name} plannedN={null} />
        </>
      )}
      <NoteList />
    </main>
  )
}

const LOOK_MS = 2_000

/** Whether the bench answers, and no longer knows this screen: it was started again, and codes are good for one start. */
function useLetGo(isAway: boolean): boolean {
  const [isLetGo, setLetGo] = useState(false)
  useEffect(() => {
    setLetGo(false)
    if (!isAway) return
    const timer = setInterval(() => {
      fetch('/api/line').then(
        ({ status }) => setLetGo(status === 401),
        () => setLetGo(false),
      )
    }, LOOK_MS)
    return () => clearInterval(timer)
  }, [isAway])
  return isLetGo
}

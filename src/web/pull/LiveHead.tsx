import type { ReactNode } from 'react'
import type { ForceUnit } from '../../core/units/force.ts'
import type { LineRigFacts } from '../../server/apiTypes.ts'
import { useMark, useNextUnit } from '../app/units.tsx'
import { useLiveFrame, useLiveState } from '../live/useLive.tsx'
import { texts } from '../texts/index.ts'
import { liveNumber, liveUnitWord } from './liveMarks.ts'
import { Margins } from './Margins.tsx'
import { SmallFigures } from './SmallFigures.tsx'
import { strokeAlarm, strokeNow } from './strokeUse.ts'

const words = texts.pull

/** The force as large as can be read across a room, what belongs to it in small, and the margins that fill. */
export function LiveHead({
  unit,
  plannedN,
  rig,
  capacityN,
  isPractice,
  isSmall = false,
  children,
}: {
  unit: ForceUnit
  plannedN: number | null
  rig: LineRigFacts | null
  capacityN: number | null
  /** Of the pretend rig: its forces are invented. */
  isPractice: boolean
  /** The force stands among the small figures: what it came to has its place. */
  isSmall?: boolean
  /** Stands beside the force: what it came to. */
  children?: ReactNode
}) {
  const mark = useMark()
  const nextUnit = useNextUnit()
  const { capture, events, alarms } = useLiveState()
  const { figures, curve, restlessN } = useLiveFrame()
  const forceN = figures?.forceN ?? null
  const stroke = strokeNow(figures, rig, { curve, capture, events, restlessN })
  const isOver = alarms.some(({ code }) => code === 'near-capacity' || code === 'over-capacity')
  return (
    <>
      <Margins
        cellShare={figures?.shareOfCapacity ?? null}
        plannedShare={plannedN !== null && capacityN !== null ? plannedN / capacityN : null}
        isOver={isOver}
        stroke={stroke}
        strokeIs={strokeAlarm(stroke)}
      />
      <div className="pull-force">
        <span className="pull-numeral" data-small={isSmall}>
          {isSmall ? (
            <span className="pencil">{words.liveNow} </span>
          ) : (
            <span className="hidden-words">{words.liveLabel}: </span>
          )}
          <span className="pull-figure">
            {forceN === null ? '–' : mark(liveNumber(forceN, figures, restlessN, unit))}
          </span>
          <button type="button" className="pull-unit" title={texts.curve.nextUnit} onClick={nextUnit}>
            {liveUnitWord(figures, unit)}
          </button>
        </span>
        {children}
      </div>
      <SmallFigures unit={unit} rig={rig} isPractice={isPractice} />
    </>
  )
}

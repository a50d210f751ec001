import type { ReactNode } from 'react'
import type { ForceUnit } from '../../core/units/force.ts'
import { fromNewton } from '../../core/units/force.ts'
import { plainNumber, threeDigits } from '../../core/units/showForce.ts'
import type { LineRigFacts } from '../../server/apiTypes.ts'
import { useMark, useNextUnit } from '../app/units.tsx'
import { useLiveFrame, useLiveState } from '../live/useLive.tsx'
import { texts } from '../texts/index.ts'
import { liveStrip } from './liveBands.ts'
import { liveDecimals, peakSoFarN } from './liveMarks.ts'
import { Margins } from './Margins.tsx'
import { strokeAlarm, strokeUse } from './strokeUse.ts'

const words = texts.pull

/** The force as large as can be read across a room, what belongs to it in small, and the margins that fill. */
export function LiveHead({
  unit,
  plannedN,
  rig,
  capacityN,
  children,
}: {
  unit: ForceUnit
  plannedN: number | null
  rig: LineRigFacts | null
  capacityN: number | null
  /** Stands beside the force: what it came to. */
  children?: ReactNode
}) {
  const mark = useMark()
  const nextUnit = useNextUnit()
  const { capture, events, alarms } = useLiveState()
  const { figures, curve, restlessN } = useLiveFrame()
  const isInCounts = figures?.forceIn === 'counts'
  const shown = (forceN: number, decimals: number): string =>
    isInCounts ? plainNumber(forceN, 0) : plainNumber(fromNewton(forceN, unit), decimals)
  const decimals = liveDecimals(restlessN, unit)
  const unitWord = isInCounts ? words.counts : unit
  const forceN = figures?.forceN ?? null
  const zeroN = figures?.zeroN ?? 0
  // Only a rig with a motor needs the time under load; the turns and the travel are told.
  const needsTime = rig?.mmPerSecond != null && figures?.travelMm == null
  const loadingS = needsTime
    ? liveStrip(curve, { zeroN, capture, events, restlessN: restlessN ?? 0 }).loadingS
    : 0
  const stroke = strokeUse(figures, rig, loadingS)
  const isOver = alarms.some(({ code }) => code === 'near-capacity' || code === 'over-capacity')
  const share = figures?.shareOfCapacity ?? null
  const troubles = figures
    ? words.lineTroubles(
        figures.troubles.lost,
        figures.troubles.garbled,
        figures.troubles.resets,
        figures.troubles.reopened,
      )
    : ''
  const small: readonly (readonly [string, string, string | null])[] = [
    [words.peak, ...force(peakSoFarN(figures))],
    [
      words.rate,
      figures?.rateNPerS == null ? '–' : mark(`${shown(figures.rateNPerS, decimals)} ${unitWord}/s`),
      null,
    ],
    ...(share === null
      ? []
      : [
          [
            words.cell,
            `${Math.round(100 * share)} %`,
            words.shareOfCell(`${Math.round(100 * share)}`),
          ] as const,
        ]),
    ...(stroke === null
      ? []
      : [
          [
            words.stroke,
            mark(
              words.shareOfStroke(
                plainNumber(stroke.usedMm, 1),
                stroke.ofMm === null ? null : threeDigits(stroke.ofMm),
                stroke.from === 'time',
              ),
            ),
            null,
          ] as const,
        ]),
    ...(figures?.turns == null ? [] : [[words.turns, `${figures.turns}`, null] as const]),
    ...(restlessN === null
      ? []
      : [[words.restless, mark(`± ${shown(restlessN, decimals + 1)} ${unitWord}`), null] as const]),
    ...(troubles === '' ? [] : [[words.lineTroublesName, troubles, null] as const]),
    ...(figures?.channels ?? []).map(
      ({ name, value, unit: of }) =>
        [name, value === null ? '–' : mark(`${threeDigits(value)} ${of}`), null] as const,
    ),
  ]
  function force(ofN: number | null): [string, null] {
    return [ofN === null ? '–' : mark(`${shown(ofN, decimals)} ${unitWord}`), null]
  }
  return (
    <>
      <Margins
        cellShare={share}
        plannedShare={plannedN !== null && capacityN !== null ? plannedN / capacityN : null}
        isOver={isOver}
        stroke={stroke}
        strokeIs={strokeAlarm(stroke)}
      />
      <div className="pull-force">
        <span className="pull-numeral">
          <span className="hidden-words">{words.liveLabel}: </span>
          <span className="pull-figure">{forceN === null ? '–' : mark(shown(forceN, decimals))}</span>
          <button type="button" className="pull-unit" title={texts.curve.nextUnit} onClick={nextUnit}>
            {unitWord}
          </button>
        </span>
        {children}
      </div>
      <dl className="pull-small">
        {small.map(([name, value, title]) => (
          <div key={name} title={title ?? undefined}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </>
  )
}

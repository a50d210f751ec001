import { memo } from 'react'
import type { ForceUnit } from '../../core/units/force.ts'
import { plainNumber, threeDigits } from '../../core/units/showForce.ts'
import type { LineRigFacts } from '../../server/apiTypes.ts'
import { useMark } from '../app/units.tsx'
import { useLiveState, useReadableFrame } from '../live/useLive.tsx'
import { texts } from '../texts/index.ts'
import { liveNumber, liveUnitWord, peakSoFarN } from './liveMarks.ts'
import { strokeNow } from './strokeUse.ts'

const words = texts.pull

/** What belongs to the large force, in small type: it changes no more often than it can be read. */
export const SmallFigures = memo(
  ({ unit, rig, isPractice }: { unit: ForceUnit; rig: LineRigFacts | null; isPractice: boolean }) => {
    const mark = useMark()
    const { capture, events } = useLiveState()
    const { figures, curve, restlessN } = useReadableFrame()
    const unitWord = liveUnitWord(figures, unit)
    const shown = (ofN: number, moreDigits = 0): string =>
      liveNumber(ofN, figures, restlessN, unit, moreDigits)
    const peakN = peakSoFarN(figures)
    const stroke = strokeNow(figures, rig, { curve, capture, events, restlessN })
    const share = figures?.shareOfCapacity ?? null
    const troubles = figures
      ? words.lineTroubles(
          figures.troubles.lost,
          figures.troubles.garbled,
          figures.troubles.resets,
          figures.troubles.reopened,
        )
      : ''
    const small: readonly (readonly [name: string, value: string, title?: string])[] = [
      [words.peak, peakN === null ? '–' : mark(`${shown(peakN)} ${unitWord}`)],
      [words.rate, figures?.rateNPerS == null ? '–' : mark(`${shown(figures.rateNPerS)} ${unitWord}/s`)],
      ...(isPractice
        ? [[words.scale, words.scaleOf.practice] as const]
        : rig === null && figures?.forceIn !== 'counts'
          ? [[words.scale, words.scaleOf.unchecked] as const]
          : []),
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
            ] as const,
          ]),
      ...(figures?.turns == null ? [] : [[words.turns, `${figures.turns}`] as const]),
      ...(restlessN === null
        ? []
        : [[words.restless, mark(`± ${shown(restlessN, 1)} ${unitWord}`)] as const]),
      ...(troubles === '' ? [] : [[words.lineTroublesName, troubles] as const]),
      ...(figures?.channels ?? []).map(
        ({ name, value, unit: of }) =>
          [name, value === null ? '–' : mark(`${threeDigits(value)} ${of}`)] as const,
      ),
    ]
    return (
      <dl className="pull-small">
        {small.map(([name, value, title]) => (
          <div key={name} title={title}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    )
  },
)

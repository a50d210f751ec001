import { useMemo } from 'react'
import type { ForceUnit } from '../../core/units/force.ts'
import { useMark } from '../app/units.tsx'
import { useLiveFrame, useLiveState } from '../live/useLive.tsx'
import { Curve } from '../parts/Curve.tsx'
import type { CurveLine } from '../parts/curve/types.ts'
import { texts } from '../texts/index.ts'
import { axisOf, liveStrip } from './liveBands.ts'
import { liveForce, livePeak, liveTicks, peakSoFarN } from './liveMarks.ts'

const words = texts.pull
/** With nothing planned, what the reading does by itself takes no more than this part of the height. */
const QUIET_SHARES = 50

/** The curve as it grows, with its selvedge. */
export function LiveCurve({
  unit,
  name,
  plannedN,
}: {
  unit: ForceUnit
  name: string
  plannedN: number | null
}) {
  const mark = useMark()
  const { capture, events, reading } = useLiveState()
  const { curve, figures, restlessN, version } = useLiveFrame()
  const zeroN = figures?.zeroN ?? 0
  const strip = liveStrip(curve, { zeroN, capture, events, restlessN: restlessN ?? 0, reading })
  const whole = axisOf(curve.firstS ?? 0, curve.lastS ?? 0)
  const lines: CurveLine[] = [
    {
      id: 'live',
      version,
      label: words.line,
      colour: '--accent',
      widthPx: 2,
      slice: (from, to, pixels) => curve.slice(from, to, pixels, zeroN),
    },
  ]
  const ticks = useMemo(
    () => liveTicks(events, reading, unit, restlessN, mark),
    [events, reading, unit, restlessN, mark],
  )
  const peakN = capture?.pulls ? peakSoFarN(figures) : null
  const peak = livePeak(strip.top, reading, peakN, unit, restlessN, mark)
  const isInCounts = figures?.forceIn === 'counts'
  return (
    <Curve
      whole={whole}
      lines={lines}
      unit={isInCounts ? 'N' : unit}
      along={words.time}
      alongUnit="s"
      label={words.curveLabel(name)}
      description={peakN === null ? '' : mark(`${words.peak} ${liveForce(peakN, restlessN, unit)}.`)}
      bands={strip.bands}
      ticks={ticks}
      peak={peak}
      mostRows={2}
      reachN={plannedN ?? QUIET_SHARES * (restlessN ?? 0)}
    />
  )
}

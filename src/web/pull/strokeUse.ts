import type { CaptureState, LineRigFacts, LiveEvent, LiveFigures } from '../../server/apiTypes.ts'
import type { GrowingCurve } from '../live/growingCurve.ts'
import { liveStrip } from './liveBands.ts'

/** How much of the rig's stroke has been used, and by what it is known. */
export interface StrokeUse {
  readonly usedMm: number
  readonly ofMm: number | null
  readonly share: number | null
  /** `time`: an estimate from the speed of the drive and the time under load. */
  readonly from: 'travel' | 'turns' | 'time'
}

/** From the travel channel, else the turns tapped, else the drive's speed times `loadingS`; `null` where none is known. */
export function strokeUse(
  figures: Pick<LiveFigures, 'travelMm' | 'turns'> | null,
  rig: Pick<LineRigFacts, 'strokeMm' | 'mmPerSecond'> | null,
  loadingS: number,
): StrokeUse | null {
  const ofMm = rig?.strokeMm ?? null
  const use = (usedMm: number, from: StrokeUse['from']): StrokeUse => ({
    usedMm,
    ofMm,
    share: ofMm === null ? null : Math.abs(usedMm) / ofMm,
    from,
  })
  if (figures && figures.travelMm !== null)
    return use(figures.travelMm, figures.turns === null ? 'travel' : 'turns')
  const speed = rig?.mmPerSecond ?? null
  return speed === null ? null : use(speed * loadingS, 'time')
}

/** The stroke used as the live stream tells it at this moment. */
export function strokeNow(
  figures: LiveFigures | null,
  rig: LineRigFacts | null,
  told: {
    readonly curve: Pick<GrowingCurve, 'each' | 'lastS'>
    readonly capture: CaptureState | null
    readonly events: readonly LiveEvent[]
    readonly restlessN: number | null
  },
): StrokeUse | null {
  // Only a rig with a motor needs the time under load; the turns and the travel are told.
  const needsTime = rig?.mmPerSecond != null && figures?.travelMm == null
  const { curve, restlessN, ...rest } = told
  const strip = { ...rest, zeroN: figures?.zeroN ?? 0, restlessN: restlessN ?? 0 }
  return strokeUse(figures, rig, needsTime ? liveStrip(curve, strip).loadingS : 0)
}

/** From here on the end of the stroke is told of: before the carriage runs into its stop. */
const NEAR_END = 0.9

export const strokeAlarm = (use: StrokeUse | null): 'near-end' | 'end' | null =>
  use === null || use.share === null || use.share < NEAR_END ? null : use.share < 1 ? 'near-end' : 'end'

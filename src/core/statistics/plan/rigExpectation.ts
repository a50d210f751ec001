import type { Rig } from '../../calibration/rig.ts'
import { knownForPulls } from '../../health/knownRig.ts'
import type { RigExpectation } from './rigChecks.ts'

/** What is told of the pulls to come, and of the rig where that is other than its description says. */
export type ToldOfPulls = Partial<Record<keyof Omit<RigExpectation, 'health'>, number | null | undefined>> & {
  readonly expectedPeakN: number | null
  readonly accuracyPct: number
}

/** The rig as told; what was not told from its description. */
export const rigExpectation = (told: ToldOfPulls, rig: Rig | null): RigExpectation => ({
  capacityN: told.capacityN ?? rig?.cell.capacityN ?? null,
  expectedPeakN: told.expectedPeakN,
  rateHz: told.rateHz ?? rig?.converter.rateHz ?? null,
  averaged: told.averaged ?? rig?.converter.averagedReadings ?? 1,
  speedMmS: told.speedMmS ?? rig?.drive.mmPerSecond ?? null,
  strokeMm: told.strokeMm ?? rig?.strokeMm ?? null,
  extensionMm: told.extensionMm ?? null,
  timeToBreakS: told.timeToBreakS ?? null,
  accuracyPct: told.accuracyPct,
  health: rig === null ? null : knownForPulls(rig),
})

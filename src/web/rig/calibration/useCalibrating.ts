import { useMemo } from 'react'
import type { Calibration } from '../../../core/calibration/document.ts'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Rig as RigDocument } from '../../../core/calibration/rig.ts'
import { gravityOf } from '../../../core/calibration/rigFacts.ts'
import type { Outcome } from '../../../core/problem.ts'
import type { LogForceUnit } from '../../../core/units/force.ts'
import type { Rig } from '../../../server/apiTypes.ts'
import { useChange } from '../../data/queries.ts'
import { useKept } from '../../live/kept.ts'
import { texts } from '../../texts/index.ts'
import { localDay } from '../check/checkNow.ts'
import type { RigChange } from '../useRigChange.ts'
import { calibrateNow, isEnough } from './calibrateNow.ts'
import {
  type Progress,
  progressFrom,
  withoutLast,
  withoutNext,
  withPointToggled,
  withReading,
} from './progress.ts'
import { type Step, stepsFor } from './steps.ts'

export interface Calibrating {
  /** `null`: none is being made. */
  readonly progress: Progress | null
  /** The load to hang now; `null` when all are done. */
  readonly step: Step | null
  /** Of the points so far; `null` while they are too few. */
  readonly outcome: Outcome<Calibration> | null
  start(masses: readonly Mass[], readingUnit: LogForceUnit): void
  take(reading: string, resolution: number | null): void
  skip(): void
  takeBack(): void
  toggle(line: number): void
  /** The same loads once more. */
  again(masses: readonly Mass[]): void
  /** Puts it into the rig; `true` where it is there. */
  keep(calibration: Calibration): Promise<boolean>
  stop(): void
  readonly error: unknown
}

/** The guided calibration: which load is next, what was read, and what comes of it. */
export function useCalibrating(
  kept: Rig | null,
  rig: RigDocument | null,
  masses: ReadonlyMap<string, Mass>,
  change: RigChange['change'],
): Calibrating {
  const [word, keepWord] = useKept('rig.calibration', 'session')
  const progress = useMemo(() => progressFrom(word, kept?.id ?? null), [word, kept])
  const set = (next: Progress | null) => keepWord(next && JSON.stringify(next))
  const saving = useChange((backend, calibration: Calibration) =>
    backend.calibrations.keep({
      rigId: kept?.id ?? null,
      madeAt: new Date().toISOString(),
      document: calibration,
    }),
  )
  const outcome = useMemo(
    () =>
      progress && rig && isEnough(progress.points)
        ? calibrateNow({
            name: texts.rig.calibrationName(rig.name),
            points: progress.points,
            masses,
            gravity: gravityOf(rig),
            readingUnit: progress.readingUnit,
            resolution: progress.resolution,
            leaveOut: progress.leaveOut,
            date: localDay(new Date()),
          })
        : null,
    [progress, rig, masses],
  )
  const on = (next: (now: Progress) => Progress) => () => progress && set(next(progress))
  return {
    progress,
    step: progress?.toDo[0] ?? null,
    outcome,
    start: (chosen, readingUnit) =>
      kept &&
      set({
        rigId: kept.id,
        readingUnit,
        resolution: null,
        toDo: stepsFor(chosen),
        points: [],
        leaveOut: [],
      }),
    take: (reading, resolution) => progress && set(withReading(progress, reading, resolution)),
    skip: on(withoutNext),
    takeBack: on(withoutLast),
    toggle: line => progress && set(withPointToggled(progress, line)),
    again(chosen) {
      if (!progress) return
      const cycle = 1 + Math.max(0, ...progress.points.map(point => point.cycle))
      set({ ...progress, toDo: stepsFor(chosen, cycle) })
    },
    async keep(calibration) {
      if (!kept) return false
      try {
        await saving.mutateAsync(calibration)
      } catch {
        return false
      }
      const isKept = await change(
        kept,
        now => {
          const document = now.document as { readonly calibrations?: readonly unknown[] }
          return { document: { ...document, calibrations: [...(document.calibrations ?? []), calibration] } }
        },
        texts.rig.didCalibrate,
      )
      if (isKept) set(null)
      return isKept
    },
    stop: () => set(null),
    error: saving.error,
  }
}

import { FORCE_UNITS, type LogForceUnit } from '../../../core/units/force.ts'
import type { TakenPoint } from './calibrateNow.ts'
import type { Step } from './steps.ts'

/** A calibration that is being made. Kept in the window until it is finished, so that a reload loses no point. */
export interface Progress {
  readonly rigId: string
  readonly readingUnit: LogForceUnit
  /** Smallest step of the line's readings; `null` where they were typed. */
  readonly resolution: number | null
  /** Loads still to come. */
  readonly toDo: readonly Step[]
  readonly points: readonly TakenPoint[]
  /** Points, from 1, that do not count. */
  readonly leaveOut: readonly number[]
}

/** With the reading of the next load taken. */
export const withReading = (progress: Progress, reading: string, resolution: number | null): Progress => {
  const [step, ...toDo] = progress.toDo
  return step
    ? { ...progress, toDo, points: [...progress.points, { ...step, reading }], resolution }
    : progress
}

/** The last point taken back, to be read again. */
export const withoutLast = (progress: Progress): Progress => {
  const last = progress.points.at(-1)
  if (!last) return progress
  const { reading: _, ...step } = last
  return {
    ...progress,
    points: progress.points.slice(0, -1),
    toDo: [step, ...progress.toDo],
    leaveOut: progress.leaveOut.filter(line => line < progress.points.length),
  }
}

export const withoutNext = (progress: Progress): Progress => ({ ...progress, toDo: progress.toDo.slice(1) })

export const withPointToggled = (progress: Progress, line: number): Progress => ({
  ...progress,
  leaveOut: progress.leaveOut.includes(line)
    ? progress.leaveOut.filter(other => other !== line)
    : [...progress.leaveOut, line].sort((a, b) => a - b),
})

/** What the window kept, as far as it makes sense for this rig. */
export function progressFrom(kept: string | null, rigId: string | null): Progress | null {
  if (kept === null || rigId === null) return null
  try {
    const progress = JSON.parse(kept) as Progress | null
    const units: readonly string[] = [...FORCE_UNITS, 'counts']
    return progress?.rigId === rigId &&
      units.includes(progress.readingUnit) &&
      [progress.toDo, progress.points, progress.leaveOut].every(Array.isArray)
      ? progress
      : null
  } catch {
    return null
  }
}

import { applyLoads } from '../../../core/calibration/applied.ts'
import { calibrate } from '../../../core/calibration/calibrate.ts'
import type { Calibration } from '../../../core/calibration/document.ts'
import { readPointRows } from '../../../core/calibration/pointsTable.ts'
import type { Mass } from '../../../core/calibration/references.ts'
import type { Outcome } from '../../../core/problem.ts'
import type { LogForceUnit } from '../../../core/units/force.ts'
import type { Gravity } from '../../../core/units/gravity.ts'
import type { Step } from './steps.ts'

/** A load and what the rig read with it; the reading as it was typed, or as the line gave it. */
export interface TakenPoint extends Step {
  readonly reading: string
}

export interface CalibrationSituation {
  readonly name: string
  readonly points: readonly TakenPoint[]
  readonly masses: ReadonlyMap<string, Mass>
  readonly gravity: Gravity
  readonly readingUnit: LogForceUnit
  /** Smallest step of the line's readings; found from those that were typed where not given. */
  readonly resolution: number | null
  /** Lines of points to leave out, from 1. */
  readonly leaveOut: readonly number[]
  /** `2026-05-03`. */
  readonly date: string
}

/**
 * The calibration of the points so far: the same, to the last digit, as `tenterhook calibrate` makes of a table with the
 * columns stack, reading, direction and cycle.
 */
export function calibrateNow(given: CalibrationSituation): Outcome<Calibration> {
  const { name, points, masses, gravity, readingUnit, resolution, leaveOut, date } = given
  const read = readPointRows(
    {
      name,
      header: ['stack', 'reading', 'direction', 'cycle'],
      // A header is line 1 of a table.
      rows: points.map(({ hang, reading, direction, cycle }, i) => ({
        line: i + 2,
        cells: [hang.length === 0 ? '0' : hang.join(' + '), reading, direction, String(cycle)],
      })),
    },
    { readingUnit },
  )
  if (!read.ok) return read
  const applied = applyLoads(name, read.value.rows, { gravity, references: masses, buoyancy: true })
  if (!applied.ok) return applied
  return calibrate(
    {
      name,
      points: applied.value.points,
      doubts: applied.value.doubts,
      gravity,
      readingUnit: read.value.readingUnit,
      readingDecimals: Math.max(0, ...read.value.rows.map(row => row.readingDecimals)),
      warnings: [...read.value.warnings, ...applied.value.warnings],
    },
    { ...(resolution === null ? {} : { resolution }), leaveOut: leaveOut.map(i => i + 1), date },
  )
}

/** Fewest points, and different loads among them, of which a line can be made. */
export const isEnough = (points: readonly TakenPoint[]): boolean =>
  points.length >= 3 &&
  new Set(points.filter(({ hang }) => hang.length > 0).map(({ hang }) => hang.join(' + '))).size >= 2
